// A note stands over the page, at its end. Where it would cover what is selected, or where somebody is typing, the page moves up by
// as much.
import type { Frame } from "../draw/plan";
import { placeOf } from "../draw/plan";
import * as now from "../state";

interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

const round = 24; // CSS pixels kept clear around a point

/** uncovered moves the page so that a note leaves free what is worked on, as far as that is in view. */
export function uncovered(note: HTMLElement): void {
  const foot = note.closest<HTMLElement>(".foot") ?? note;
  const n = foot.getBoundingClientRect();
  const strip = document.querySelector(".run")?.getBoundingClientRect().bottom ?? 0;
  const meets = (b: Box): boolean => n.height > 0 && b.left < n.right && b.right > n.left && b.bottom > n.top && b.top < Math.min(n.bottom, innerHeight) && b.top > strip;
  const up = [selected(), worked(foot)].filter((b) => b !== undefined).filter(meets).map((b) => Math.min(b.bottom - n.top + 8, b.top - strip - 8));
  if (up.length > 0) scrollBy(0, Math.max(...up));
}

// Where the peg stands in the plan.
function selected(): Box | undefined {
  const s = now.screen.peek();
  const canvas = document.querySelector<HTMLCanvasElement & { frame?: Frame }>(".plan canvas");
  const p = s && now.selected.peek() ? placeOf(s, now.here.peek()) : undefined;
  if (!canvas?.frame || !p) return undefined;
  const c = canvas.getBoundingClientRect();
  const [x, y] = [c.left + canvas.frame.x(p.at[0]), c.top + canvas.frame.y(p.at[1])];
  if (x < c.left || x > c.right || y < c.top || y > c.bottom) return undefined;
  return { left: x - round, top: y - round, right: x + round, bottom: y + round };
}

function worked(foot: HTMLElement): Box | undefined {
  const at = document.activeElement;
  return at instanceof HTMLElement && at.matches("input, select, button, summary") && !foot.contains(at) ? at.getBoundingClientRect() : undefined;
}
