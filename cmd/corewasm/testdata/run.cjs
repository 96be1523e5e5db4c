// node run.cjs WASM_EXEC CORE METHOD [NAME=FILE]… < job.json > answer
globalThis.fs = require("fs");
globalThis.crypto ??= require("crypto").webcrypto;
const [, , exec, core, method, ...files] = process.argv;
const attachments = {};
for (const f of files) {
  const [name, file] = f.split("=");
  attachments[name] = new Uint8Array(fs.readFileSync(file));
}
require(exec);
const go = new Go();
WebAssembly.instantiate(fs.readFileSync(core), go.importObject).then(({ instance }) => {
  go.run(instance);
  const answer = trenchwrightCore[method](fs.readFileSync(0, "utf8"), attachments);
  if (answer.error) {
    console.error(answer.error);
    process.exit(1);
  }
  fs.writeFileSync(1, answer);
  process.exit(0);
});
