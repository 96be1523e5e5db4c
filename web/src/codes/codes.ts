// Codes read from pictures and made for the screen, for browsers that can do neither (ISO/IEC 18004). Loaded when somebody asks for it.
import { encodeQR } from "qr";
import { decodeQR } from "qr/decode.js";

export const codes = {
  /** read is what the code in a picture says; empty: there is none that can be read. within: ms to try. */
  read(picture: { width: number; height: number; data: Uint8ClampedArray }, within: number): string {
    try {
      return decodeQR(picture, { timeLimit: within });
    } catch {
      return "";
    }
  },
  /** modules are those of a code, row by row, true where it is dark, with the quiet round it. */
  modules: (text: string): boolean[][] => encodeQR(text, "raw", { ecc: "low", border: 4 }),
};
export type Codes = typeof codes;

(globalThis as unknown as { TrenchwrightCodes: Codes }).TrenchwrightCodes = codes;
