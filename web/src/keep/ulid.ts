// Names that are made on this device and never made twice: 48 bits of time and 80 bits of chance in Crockford's base 32, so that
// they sort by when they were made. The clock only helps to sort; it never decides anything.
export const letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
let last = 0;

export function ulid(): string {
  const now = Math.max(Date.now(), last + 1);
  last = now;
  let time = "";
  for (let t = now, i = 0; i < 10; i++, t = Math.floor(t / 32)) time = letters.charAt(t % 32) + time;
  const chance = crypto.getRandomValues(new Uint8Array(16));
  return time + Array.from(chance, (b) => letters.charAt(b % 32)).join("");
}
