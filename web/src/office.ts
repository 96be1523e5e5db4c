// The site as the office has it: asked of the core anew whenever a record comes in, from this machine or from site.
import { effect, signal } from "@preact/signals";
import { Lane } from "./core/lane";
import { why } from "./keep/db";
import type { Day, Office } from "./screen";
import { ask, site } from "./site";

export const open = signal(false);
/** days are those that are measured between, as typed; of is the day of the report, empty: the last one. */
export const days = signal({ from: "", to: "" });
export const of = signal("");
export const office = signal<Office | undefined>(undefined);
export const day = signal<Day | undefined>(undefined);
export const fault = signal("");

const asking = new Lane();
effect(() => {
  const [is, from, date] = [site.value, days.value, of.value];
  if (!is || !open.value) return;
  asking.run(async () => {
    try {
      const [o, d] = [await ask<Office>("office", { fields: from }), await ask<Day>("day", { fields: { date } })];
      if (site.value !== is) return;
      [office.value, day.value, fault.value] = [o, d, ""];
    } catch (e) {
      fault.value = why(e);
    }
  });
});
