// node run.cjs WASM_EXEC CORE METHOD < job.json > answer
globalThis.fs = require("fs");
globalThis.crypto ??= require("crypto").webcrypto;
const [, , exec, core, method] = process.argv;
require(exec);
const go = new Go();
WebAssembly.instantiate(fs.readFileSync(core), go.importObject).then(({ instance }) => {
  go.run(instance);
  const answer = trenchwrightCore[method](fs.readFileSync(0, "utf8"));
  if (answer.error) {
    console.error(answer.error);
    process.exit(1);
  }
  fs.writeFileSync(1, answer);
  process.exit(0);
});
