// Every fault that reaches the page unforeseen is kept in a list that tests and people can read: globalThis.trenchwrightFaults.
export const faults: string[] = [];
(globalThis as { trenchwrightFaults?: string[] }).trenchwrightFaults = faults;

addEventListener("error", (e) => faults.push(e.message || String(e)));
addEventListener("unhandledrejection", (e) => faults.push("unhandled: " + String(e.reason)));
const told = console.error.bind(console);
console.error = (...words: unknown[]) => {
  faults.push(words.map(String).join(" "));
  told(...words);
};
