// node pack.cjs WASM_EXEC PACK JOB STATE PLAN [NAME=FILE]… > files
// Every file that the pack writes without a server: a line with its length and path, then its bytes; the list comes first.
const fs = (globalThis.fs = require("fs"));
globalThis.crypto ??= require("crypto").webcrypto;
const [, , exec, pack, job, state, plan, ...named] = process.argv;
const bytes = (file) => new Uint8Array(fs.readFileSync(file));
const attachments = Object.fromEntries(named.map((f) => f.split("=")).map(([name, file]) => [name, bytes(file)]));
require(exec);
const go = new Go();
WebAssembly.instantiate(fs.readFileSync(pack), go.importObject).then(({ instance }) => {
  go.run(instance);
  const out = [];
  const timed = (what, ask) => {
    const started = performance.now();
    const answer = ask();
    if (answer.error) throw new Error(what + ": " + answer.error);
    if (process.env.SAY_TIMES) console.error(`${what} ${(performance.now() - started).toFixed(0)} ms ${answer.length} bytes`);
    out.push(Buffer.from(`${answer.length} ${what}\n`), Buffer.from(answer));
    return answer;
  };
  timed("open", () => trenchwrightPack.open(fs.readFileSync(job, "utf8"), fs.readFileSync(state, "utf8"), bytes(plan), attachments));
  timed("sheets-A3.pdf", () => trenchwrightPack.file("sheets-A3.pdf")); // by itself, before anything else was drawn
  timed("set-out-cards-A4.pdf/pages.json", () => trenchwrightPack.file("set-out-cards-A4.pdf/pages.json"));
  timed("sheets-A3.pdf/2.svg", () => trenchwrightPack.file("sheets-A3.pdf/2.svg"));
  const list = JSON.parse(new TextDecoder().decode(timed("files", () => trenchwrightPack.files())));
  for (const f of list) {
    if (!f.server) timed(f.path, () => trenchwrightPack.file(f.path));
    else if (!trenchwrightPack.file(f.path).error) throw new Error(f.path + " was written without the server");
  }
  fs.writeFileSync(1, Buffer.concat(out));
  process.exit(0);
});
