// What a code on a card says: the job, its state, a place of it. Typed or scanned, it comes to the same place.

export interface Carded {
  job: string; // empty: the code names a place alone
  state: string;
  place: string;
}

/** carded takes a code apart. Anything that is no code of a card is a place by itself, behind the last # of an address. */
export function carded(code: string): Carded {
  const parts = code.trim().split(" / ");
  if (parts.length >= 3) return { job: parts[0]!.trim(), state: parts[1]!.trim(), place: first(parts.slice(2).join(" / ")) };
  const end = code.slice(code.lastIndexOf("#") + 1);
  let plain = end;
  try {
    plain = decodeURI(end);
  } catch {
    // a lone % sign: no address
  }
  return { job: "", state: "", place: plain.replace(/^(unit|joint|cover|node)\//, "").trim() };
}

// The first place of a stretch.
const first = (place: string): string => place.split(" to ")[0]!.trim();

/** odds is what somebody has to know who reads a card of another job, or of another state of it; empty: it is of what is open. */
export function odds(c: Carded, job: string, hash: string, brief: string): string {
  if (!c.job) return "";
  if (c.job !== job) return `This card is of job ${c.job}; ${job} is open here. Open that job first.`;
  const same = c.state === "file " + hash.slice(0, 12) || brief.startsWith(c.state + " ") || brief === c.state;
  return same ? "" : `This card was printed from ${c.state} of the job; here it is ${brief || "file " + hash.slice(0, 12)}. Look whether the figures still hold.`;
}
