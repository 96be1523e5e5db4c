// Packs what comes in by gzip, as small as it gets: libdeflate at its highest level looks for the shortest way to say a file,
// where gzip -9 takes the next best. Any reader of gzip reads it.
import { readFileSync, writeFileSync } from "node:fs";
import { gzip } from "libdeflate";

writeFileSync(1, gzip(readFileSync(0), 12));
