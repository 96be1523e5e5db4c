// Who works here: whose name stands beside what is changed. It is kept at once, letter by letter, so that a page which is left in
// the middle loses none; where the browser keeps nothing of that kind, it holds for this page alone.
const place = "trenchwright author";
let here = "";

/** author is the name as it was written last, in whichever page of this browser. */
export function author(): string {
  try {
    return localStorage.getItem(place) ?? here;
  } catch {
    return here;
  }
}

/** workedBy keeps who works here. */
export function workedBy(name: string): void {
  here = name;
  try {
    localStorage.setItem(place, name);
  } catch {
    // it is not allowed here, or there is no room: the name still stands beside what this page changes
  }
}
