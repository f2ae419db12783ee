/**
 * A picture as it comes off a phone, made into the one we keep: upright, at most 1,600 points along its longer side, a
 * JPEG without a word about where, when and with what it was taken. It is decoded and encoded anew, so whatever else
 * was hidden in the file (a place, a script, another file behind the picture) does not come along. What a picture is
 * decides its first bytes, never its name: only what a camera or a browser makes is handed to the decoder at all.
 */
import { type Checked, type Problem, bad, good } from "@/lib/measure";

/** What a phone sends is 2 to 8 MiB. */
export const LARGEST_PICTURE = 12 * 1024 * 1024;
/** Points along the longer side of what is kept. */
export const LONGEST_SIDE = 1600;
/** A phone's largest usual setting is 50 million points. A small file that unpacks to more is a trap or a mistake. */
const MOST_POINTS = 64_000_000;
const QUALITY = 80;
const PATIENCE_SECONDS = 30;

export interface Picture {
  readonly jpeg: Buffer;
  readonly width: number;
  readonly height: number;
}

/** Why a picture is not taken, in a sentence, by its code: a page that is told the code alone can say it too. */
export const PICTURE_PROBLEMS = {
  "no-photo": "Choose a photo, or take one.",
  "too-large": "A photo may be 12 MiB at most. Take it at a smaller setting, or send a smaller copy.",
  "not-a-picture": "This file is not a photo that can be kept: it has to be a JPEG, PNG, WebP or AVIF.",
  heic: "This photo is in the HEIC format, which most browsers do not show. Set the camera to take JPEG (on some phones: “most compatible”), or send a JPEG copy.",
  "too-many-points": "This photo has more than 64 million points. Take it at a smaller setting, or send a smaller copy.",
  damaged: "This photo cannot be read: it is damaged, or no photo at all. Take it again, or choose another.",
} as const;
export type PictureProblem = keyof typeof PICTURE_PROBLEMS;

export function pictureProblem(code: PictureProblem): { readonly ok: false; readonly problems: readonly Problem[] } {
  return bad("photo", code, PICTURE_PROBLEMS[code]);
}

/** The picture to keep. Problems: those of `PICTURE_PROBLEMS`. */
export async function readPicture(sent: Uint8Array): Promise<Checked<Picture>> {
  if (sent.length === 0) return pictureProblem("no-photo");
  if (sent.length > LARGEST_PICTURE) return pictureProblem("too-large");
  const format = formatOf(sent);
  if (format === null) return pictureProblem("not-a-picture");
  if (format === "heic") return pictureProblem("heic");
  return inTurn(() => encodeAnew(sent));
}

async function encodeAnew(sent: Uint8Array): Promise<Checked<Picture>> {
  // Not at the top: a machine for which there is no decoder keeps everything but photos.
  const { default: sharp } = await import("sharp");
  try {
    const { data, info } = await sharp(sent, { limitInputPixels: MOST_POINTS, failOn: "error" })
      .timeout({ seconds: PATIENCE_SECONDS })
      .autoOrient()
      .resize({ width: LONGEST_SIDE, height: LONGEST_SIDE, fit: "inside", withoutEnlargement: true })
      .flatten({ background: "#ffffff" })
      .toColourspace("srgb")
      .jpeg({ quality: QUALITY })
      .toBuffer({ resolveWithObject: true });
    return good({ jpeg: data, width: info.width, height: info.height });
  } catch (error) {
    // The decoder's own words are for programmers; which of the two it was is all a cook can use.
    return pictureProblem(/pixel limit/i.test(String(error)) ? "too-many-points" : "damaged");
  }
}

/** By its first bytes; null for whatever no camera makes (a drawing, a page, an archive). */
function formatOf(sent: Uint8Array): "jpeg" | "png" | "webp" | "avif" | "heic" | null {
  const text = Buffer.from(sent.buffer, sent.byteOffset, Math.min(sent.length, 32)).toString("latin1");
  if (text.startsWith("\xff\xd8\xff")) return "jpeg";
  if (text.startsWith("\x89PNG\r\n\x1a\n")) return "png";
  if (text.startsWith("RIFF") && text.slice(8, 12) === "WEBP") return "webp";
  if (text.slice(4, 8) !== "ftyp") return null;
  if (/avif|avis/.test(text.slice(8))) return "avif";
  return /hei[cxms]|hev[cx]|mif1|msf1/.test(text.slice(8)) ? "heic" : null;
}

let last: Promise<unknown> = Promise.resolve();

/** One picture after another: several large ones at once would need the memory that the book wants. */
function inTurn<T>(work: () => Promise<T>): Promise<T> {
  const next = last.then(work);
  last = next.catch(() => undefined);
  return next;
}
