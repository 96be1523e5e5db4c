// The worker in which the planning core runs. It holds no state that could be lost: the page may end it at any time and feed
// a new one.
import { serve, type Answer } from "./core/start";

interface Core {
  version: string;
  ask(name: string, args: string, files?: Record<string, Uint8Array>): Answer;
}

serve<Core>(PLACES.core, "trenchwrightCore", (core, { name, args, files }) => {
  if (name === "version") return new TextEncoder().encode(JSON.stringify(core.version));
  return files ? core.ask(name, args, files) : core.ask(name, args);
});
