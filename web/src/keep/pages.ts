// The other pages of this browser: they keep the same jobs, and are told what happened here.
export interface Word {
  kept?: string[]; // jobs that have a revision more
  records?: { job: string; lines: string[] }; // records that are kept here since
  sent?: boolean; // something went up
  more?: boolean; // the server has something new
  ask?: "busy"; // is anybody in the middle of something? whoever is answers busy
  busy?: boolean;
}

type Heard = (w: Word) => void;
const channel = "BroadcastChannel" in self ? new BroadcastChannel("trenchwright") : undefined;
const heard = new Set<Heard>();
if (channel) channel.onmessage = (e: MessageEvent<Word>) => heard.forEach((f) => f(e.data));

export const others = {
  tell(w: Word): void {
    channel?.postMessage(w);
  },
  /** hear is told what other pages say; what it gives ends that. */
  hear(f: Heard): () => void {
    heard.add(f);
    return () => heard.delete(f);
  },
  /** busy asks the other pages whether one is in the middle of something. */
  busy(): Promise<boolean> {
    return new Promise((done) => {
      const end = others.hear((w) => w.busy && answer(true));
      const late = setTimeout(() => answer(false), 400);
      const answer = (yes: boolean): void => (clearTimeout(late), end(), done(yes));
      others.tell({ ask: "busy" });
    });
  },
};
