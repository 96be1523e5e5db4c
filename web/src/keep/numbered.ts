// A line that was given out may carry the number that its record has at the server, round the record as it came:
//
//	{"seq":17,"record":{"id":"01K…",…}}

/** numbered is a record's line with its number round it; without one it stays as it is. */
export const numbered = (text: string, seq?: number): string => (seq ? `{"seq":${seq},"record":${text}}` : text);

/** unnumbered takes a line apart again: the record byte for byte as it came, and its number; 0: it carries none. */
export function unnumbered(line: string): { text: string; seq: number } {
  const m = /^\{"seq":([1-9]\d{0,14}),"record":(\{.*\})\}$/s.exec(line);
  return m ? { text: m[2]!, seq: Number(m[1]) } : { text: line, seq: 0 };
}
