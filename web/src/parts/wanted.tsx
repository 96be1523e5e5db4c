// A text that has to be typed. Where it is missing when somebody presses the button, that stands at the field, and whoever hears
// the page is told; the button itself is never grey for it.
import type { JSX } from "preact";

interface Of {
  id: string;
  label: string;
  value: string;
  like?: string; // an example
  missing: string; // what is to be said where it is empty; empty: nobody pressed yet, or it is optional
  typed(text: string): void;
}

export function Wanted({ id, label, value, like, missing, typed }: Of): JSX.Element {
  const wrong = missing !== "" && value.trim() === "";
  return (
    <div class="wanted">
      <label for={id}>{label}</label>
      <input id={id} value={value} placeholder={like ? "like " + like : ""} autocomplete="off" aria-invalid={wrong} {...(wrong && { "aria-describedby": id + "-missing" })} onInput={(e) => typed(e.currentTarget.value)} />
      {wrong && <span id={id + "-missing"} class="missing" role="alert">{missing}</span>}
    </div>
  );
}

/** toMissing puts the cursor into the first field of a form that is still empty and should not be. */
export function toMissing(form: HTMLElement): void {
  requestAnimationFrame(() => form.querySelector<HTMLElement>("[aria-invalid='true']")?.focus());
}
