// Pictures under plans. They are kept in this browser alone, one for each job: no revision holds them, no server gets them.
import type { Pair } from "../draw/picture";
import { during, set, setting } from "./db";

export interface Picture {
  name: string; // of its file
  type: string; // media type
  bytes: Uint8Array;
  pairs: Pair[]; // the first two place it
  on: boolean; // whether it is shown
}

const key = (job: string): string => "picture under " + job;

export const pictureOf = (job: string): Promise<Picture | undefined> => setting<Picture | undefined>(key(job), undefined);

export const keepPicture = (job: string, p: Picture): Promise<unknown> => set(key(job), p);

export const dropPicture = (job: string): Promise<unknown> => during(["settings"], "readwrite", (t) => t.remove("settings", key(job)));
