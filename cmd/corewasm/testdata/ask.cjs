// node ask.cjs WASM_EXEC CORE [NAME=FILE]… < questions.json > answers
// questions.json is [[name, question as text], …]; every answer is a line with its length in bytes, then its bytes.
globalThis.fs = require("fs");
globalThis.crypto ??= require("crypto").webcrypto;
const [, , exec, core, ...files] = process.argv;
const attachments = {};
for (const f of files) {
  const [name, file] = f.split("=");
  attachments[name] = new Uint8Array(fs.readFileSync(file));
}
require(exec);
const go = new Go();
WebAssembly.instantiate(fs.readFileSync(core), go.importObject).then(({ instance }) => {
  go.run(instance);
  const out = [];
  for (const [name, question] of JSON.parse(fs.readFileSync(0, "utf8"))) {
    const started = performance.now();
    const answer = trenchwrightCore.ask(name, question, attachments);
    if (process.env.SAY_TIMES) console.error(`${name} ${(performance.now() - started).toFixed(1)} ms ${answer.length ?? answer.error}`);
    const bytes = answer.error ? Buffer.from("error: " + answer.error) : Buffer.from(answer);
    out.push(Buffer.from(bytes.length + "\n"), bytes);
  }
  fs.writeFileSync(1, Buffer.concat(out));
  process.exit(0);
});
