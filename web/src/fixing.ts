// Where this phone says that it is, for records: asked of a person once, by a switch, and never waited for.
import { effect, signal } from "@preact/signals";
import { setting, set } from "./keep/db";

/** Fix is as records keep it: WGS 84, degrees; within so many metres, as the phone says (95 % by the W3C's Geolocation). */
export interface Fix {
  latitude: number;
  longitude: number;
  within_m: number;
}

/** fixing says whether records carry it; told is what stands against that, empty: nothing. */
export const fixing = signal(false);
export const told = signal("");
/** last is where the phone was last; undefined: it has not said yet. */
export const last = signal<{ fix: Fix; at: number } | undefined>(undefined);

const old = 60_000; // ms after which a place is no more that of a new record

/** here is where the phone is, as far as it said so a moment ago. */
export const here = (): Fix | undefined => (fixing.value && last.value && Date.now() - last.value.at < old ? last.value.fix : undefined);

/** fix turns it on or off; the browser asks the person the first time. */
export async function fix(on: boolean): Promise<void> {
  fixing.value = on;
  await set("fixing", on);
}
void setting("fixing", false).then((on) => (fixing.value = on), () => undefined);

const rounded = (n: number, digits: number): number => Number(n.toFixed(digits));

effect(() => {
  told.value = "";
  last.value = undefined;
  if (!fixing.value) return undefined;
  if (!navigator.geolocation) return void (told.value = "This browser has no position to give: records carry none.");
  const watch = navigator.geolocation.watchPosition(
    ({ coords, timestamp }) => {
      told.value = "";
      last.value = { fix: { latitude: rounded(coords.latitude, 7), longitude: rounded(coords.longitude, 7), within_m: rounded(coords.accuracy, 1) }, at: Math.min(timestamp, Date.now()) };
    },
    (e) => (told.value = e.code === e.PERMISSION_DENIED ? "This page may not use the position: records carry none. The browser's own settings of this page change that." : "The phone has no position now: records carry none until it has."),
    { enableHighAccuracy: true, maximumAge: 10_000 },
  );
  return () => navigator.geolocation.clearWatch(watch);
});
