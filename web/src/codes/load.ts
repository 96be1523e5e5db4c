// Codes on pictures, as the browser reads them where it can, else by a script of ours that is fetched once and kept for no signal.
import type { Codes } from "./codes";

interface Detector {
  detect(from: CanvasImageSource): Promise<{ rawValue: string }[]>;
}
type Detecting = (new (of: { formats: string[] }) => Detector) & { getSupportedFormats(): Promise<string[]> };

let loading: Promise<Codes> | undefined;

/** ours is what reads and makes codes. */
export function ours(): Promise<Codes> {
  loading ??= new Promise((done, failed) => {
    const script = document.createElement("script");
    script.src = PLACES.codes;
    script.onload = () => done((globalThis as unknown as { TrenchwrightCodes: Codes }).TrenchwrightCodes);
    script.onerror = () => {
      loading = undefined;
      failed(new Error("What reads codes could not be loaded: type what stands beside the code."));
    };
    document.head.append(script);
  });
  return loading;
}

/** Eye looks at a picture for so many ms at the most, and says what the code on it says; empty: it sees none. */
export type Eye = (from: HTMLVideoElement | ImageBitmap, within: number) => Promise<string>;

/** eye is one for this browser. */
export async function eye(): Promise<Eye> {
  const detecting = (globalThis as { BarcodeDetector?: Detecting }).BarcodeDetector;
  if (detecting && (await detecting.getSupportedFormats().catch((): string[] => [])).includes("qr_code")) {
    const d = new detecting({ formats: ["qr_code"] });
    return async (from) => (await d.detect(from).catch(() => []))[0]?.rawValue ?? "";
  }
  const by = await ours();
  const canvas = document.createElement("canvas");
  const pen = canvas.getContext("2d", { willReadFrequently: true })!;
  return async (from, within) => {
    const [w, h] = from instanceof HTMLVideoElement ? [from.videoWidth, from.videoHeight] : [from.width, from.height];
    const k = Math.min(1, most / Math.max(w, h, 1));
    [canvas.width, canvas.height] = [Math.round(w * k), Math.round(h * k)];
    if (canvas.width < 2 || canvas.height < 2) return "";
    pen.drawImage(from, 0, 0, canvas.width, canvas.height);
    return by.read(pen.getImageData(0, 0, canvas.width, canvas.height), within);
  };
}

const most = 1600; // pixels on the longer side: a code of 15 mm on a photo of a whole A4 page has 80 of them, some two a module

/** onPhoto is what the code on a photo says. */
export async function onPhoto(file: Blob): Promise<string> {
  const [look, picture] = await Promise.all([eye(), createImageBitmap(file)]);
  try {
    return await look(picture, 3000);
  } finally {
    picture.close();
  }
}
