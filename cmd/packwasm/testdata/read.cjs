// node read.cjs WASM_EXEC PACK < drop.json > preview.json
const fs = (globalThis.fs = require("fs"));
globalThis.crypto ??= require("crypto").webcrypto;
const [, , exec, pack] = process.argv;
require(exec);
const go = new Go();
WebAssembly.instantiate(fs.readFileSync(pack), go.importObject).then(({ instance }) => {
  go.run(instance);
  const answer = trenchwrightPack.read(fs.readFileSync(0, "utf8"), {});
  fs.writeFileSync(1, answer.error ? "error: " + answer.error : answer);
  process.exit(0);
});
