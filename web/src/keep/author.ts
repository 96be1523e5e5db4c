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

// What each name is there as: several people may hold one device in turn, and nobody records as what another one is.
const roles = "trenchwright roles";
let rolesHere: Record<string, string> = {};

const known = (): Record<string, string> => {
  try {
    const all = JSON.parse(localStorage.getItem(roles) ?? "null") as unknown;
    return all !== null && typeof all === "object" ? (all as Record<string, string>) : rolesHere;
  } catch {
    return rolesHere;
  }
};

/** role is what somebody works here as, in their own words; empty: they did not say. */
export const role = (name = author()): string => String(known()[name] ?? "");

/** worksAs keeps what somebody works here as. */
export function worksAs(name: string, as: string): void {
  const { [name]: _, ...others } = known();
  rolesHere = as ? { ...others, [name]: as } : others;
  try {
    localStorage.setItem(roles, JSON.stringify(rolesHere));
  } catch {
    // as above: it holds for this page
  }
}
