// The worker that writes papers and reads dropped files. It is started when the first of them is asked for.
import { serve, type Answer } from "./core/start";

interface Pack {
  version: string;
  open(job: string, state: string, plan: Uint8Array, attachments: Record<string, Uint8Array>): Answer;
  files(): Answer;
  file(path: string): Answer;
  chosen(paper: string, behind: string): Answer;
  read(drop: string, kept: Record<string, Uint8Array>): Answer;
}

serve<Pack>(PLACES.pack, "trenchwrightPack", (pack, { name, args, files, plan, state }) => {
  switch (name) {
    case "open":
      return pack.open(args, state ?? "", plan!, files ?? {});
    case "files":
      return pack.files();
    case "file":
      return pack.file(args);
    case "chosen": {
      const { paper, behind } = JSON.parse(args) as { paper: string; behind: string };
      return pack.chosen(paper, behind);
    }
    case "read":
      return pack.read(args, files ?? {});
  }
  return { error: `there is no question ${name}` };
});
