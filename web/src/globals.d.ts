// What the build puts in: where the files lie, which of them the service worker keeps, and one hash over everything.
declare const PLACES: { core: string; worker: string; pack: string; papers: string; solid: string; codes: string };
declare const FILES: string[];
declare const STAMP: string;

declare module "*.css";
declare module "WASM_START";
