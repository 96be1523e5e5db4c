// Solves an LP file with HiGHS and prints how it ended: node highs.mjs MODEL.lp SECONDS
import { readFileSync } from "node:fs";
import load from "highs";

const [file, seconds] = process.argv.slice(2);
const highs = await load();
const r = highs.solve(readFileSync(file, "utf8"), {
  output_flag: false,
  time_limit: Number(seconds),
  mip_rel_gap: 0,
  mip_abs_gap: 1e-6,
});
console.log(JSON.stringify({ status: r.Status, value: r.ObjectiveValue }));
