// One paper of the open run as bytes, from whoever has it sooner: the server, once it has the last change, or else this browser.
import { planned } from "./actions";
import * as pack from "./core/pack";
import { ask as asked } from "./site";
import { bytes, get, making, Unreached } from "./net/api";
import * as now from "./state";

/** there tells whether the server has what is open. */
export const there = (): boolean => now.reached.value && now.unsent.value === 0;

const files = (): string => `/revisions/${encodeURIComponent(now.revision.value!.id)}/files`;

/** addressOf is where the server has a paper. */
export const addressOf = (path: string): string => `/api${files()}/${path.split("/").map(encodeURIComponent).join("/")}`;

/** Choice is a paper of one place, one day or one number. */
export interface Choice {
  kind: string; // as the core has it
  leg: string; // of a place that is a chainage
  fields: Record<string, string>; // place, day, number, ask, by
}

// Papers that were chosen, by their plan and their paths, as data: the core of this page makes them, for it has the records.
const chosen = new Map<string, Promise<string>>();
const chosenAs = (path: string): string => (now.screen.value?.hash ?? "") + " " + path;

/** choose has a paper made anew; it is found under the path from then on: its own, or one of its kind and what was chosen. */
export function choose({ kind, leg, fields }: Choice, own?: string): string {
  const path = own ?? [kind, fields["number"], fields["place"], fields["day"]].filter(Boolean).join("-").replace(/[^A-Za-z0-9.-]/g, "-") + ".pdf";
  chosen.set(chosenAs(path), asked<unknown>("paper", { name: kind, leg, fields }).then((made) => JSON.stringify(made)));
  return path;
}

/** onlyHere tells whether this browser alone has a paper. */
export const onlyHere = (path: string): boolean => chosen.has(chosenAs(path));

export async function paper(path: string): Promise<Blob> {
  const [document = "", ...behind] = path.split("/");
  const mine = chosen.get(chosenAs(document));
  const b = mine ? await pack.chosen(planned(), await mine, behind.join("/")) : await either(
    () => bytes(`${files()}/${path.split("/").map(encodeURIComponent).join("/")}`, making),
    () => pack.paper(planned(), path),
  );
  return new Blob([b as Uint8Array<ArrayBuffer>], { type: typeOf(path) });
}

/** Page is one page of a paper that has pages. */
export interface Page {
  name: string; // that of its picture: strip-1
  title: string;
  width_mm: number;
  height_mm: number;
}

/** pagesOf are the pages of a paper; pageOf is one of them as a picture, the first being 1. */
export const pagesOf = async (path: string): Promise<Page[]> => JSON.parse(await (await paper(path + "/pages.json")).text()) as Page[];
export const pageOf = (path: string, n: number): Promise<Blob> => paper(`${path}/${n}.svg`);

/** drawnOn is the page that a picture of a sheet or card says itself to be, by the size that stands in it. */
export async function drawnOn(path: string, picture: Blob): Promise<Page | undefined> {
  const head = await picture.slice(0, 2000).text();
  const size = /<svg[^>]* width="([\d.]+)mm" height="([\d.]+)mm"/.exec(head);
  const name = path.slice(path.lastIndexOf("/") + 1).replace(/\.svg$/, "");
  const title = new DOMParser().parseFromString(/<title>.*?<\/title>/.exec(head)?.[0] ?? "", "text/html").title;
  return size ? { name, title: title || name, width_mm: Number(size[1]), height_mm: Number(size[2]) } : undefined;
}

/** all are the papers that there are, each sheet and card by itself too. */
export const all = (): Promise<pack.Paper[]> => either(() => get<pack.Paper[]>(files(), making), () => pack.papers(planned()));

async function either<T>(server: () => Promise<T>, here: () => Promise<T>): Promise<T> {
  if (!there()) return here();
  try {
    return await server();
  } catch (fault) {
    if (fault instanceof Unreached) return here();
    throw fault;
  }
}

const types: Record<string, string> = {
  pdf: "application/pdf", svg: "image/svg+xml", png: "image/png", csv: "text/csv;charset=utf-8", json: "application/json", xml: "application/xml",
  geojson: "application/geo+json", yaml: "text/plain;charset=utf-8", txt: "text/plain;charset=utf-8",
  xlsx: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
};

const endOf = (path: string): string => path.slice(path.lastIndexOf(".") + 1);
const typeOf = (path: string): string => types[endOf(path)] ?? "application/octet-stream";

/** shownAs is how a page can show a paper; undefined: it can only be kept. */
export function shownAs(path: string): "pages" | "picture" | "text" | undefined {
  const end = endOf(path);
  if (end === "pdf") return "pages";
  if (end === "svg" || end === "png") return "picture";
  return end === "xlsx" ? undefined : "text";
}

/** needsServer tells whether only the server can write a paper. */
export const needsServer = (path: string): boolean => /\.(xlsx|png)$/.test(path);
