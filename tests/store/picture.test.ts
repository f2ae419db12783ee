/** A picture off a phone becomes the one we keep: upright, no larger than needed, with no word about where it was taken. */
import { deflateSync } from "node:zlib";
import sharp from "sharp";
import { describe, expect, test } from "vitest";
import { LARGEST_PICTURE, LONGEST_SIDE, readPicture } from "@/lib/store/photos/picture";

/** A phone held upright: the sensor's picture lies on its side, blue to the left, and says to be turned. With a place. */
async function offThePhone(width = 80, height = 40): Promise<Buffer> {
  const left = await sharp({ create: { width: width / 2, height, channels: 3, background: "#0000ff" } }).png().toBuffer();
  return sharp({ create: { width, height, channels: 3, background: "#ff0000" } })
    .composite([{ input: left, left: 0, top: 0 }])
    .jpeg({ quality: 95 })
    .withExif({ IFD0: { Make: "Some camera" }, IFD3: { GPSLatitudeRef: "N", GPSLatitude: "51/1 30/1 0/1", GPSLongitudeRef: "W", GPSLongitude: "0/1 7/1 0/1" } })
    .withMetadata({ orientation: 6 })
    .toBuffer();
}

async function codeOf(sent: Uint8Array): Promise<string> {
  const picture = await readPicture(sent);
  return picture.ok ? "kept" : picture.problems[0]?.code ?? "";
}

describe("what is kept", () => {
  test("neither place nor camera, nor anything else that was written beside the picture", async () => {
    const sent = await offThePhone();
    const before = await sharp(sent).metadata();
    expect(before.exif?.includes(Buffer.from("Some camera"))).toBe(true);
    const picture = await readPicture(sent);
    if (!picture.ok) throw new Error(picture.problems[0]?.sentence);
    const after = await sharp(picture.value.jpeg).metadata();
    expect(after.format).toBe("jpeg");
    for (const written of [after.exif, after.xmp, after.iptc, after.icc, after.orientation]) expect(written).toBeUndefined();
    expect(picture.value.jpeg.includes(Buffer.from("Exif"))).toBe(false);
  });

  test("upright: turned as the camera said", async () => {
    const picture = await readPicture(await offThePhone());
    if (!picture.ok) throw new Error(picture.problems[0]?.sentence);
    expect(picture.value).toMatchObject({ width: 40, height: 80 });
    // Turned a quarter to the right, what was left is on top.
    const { data, info } = await sharp(picture.value.jpeg).raw().toBuffer({ resolveWithObject: true });
    const at = (x: number, y: number): readonly number[] => [...data.subarray((y * info.width + x) * info.channels, (y * info.width + x) * info.channels + 3)];
    const [topRed = 0, , topBlue = 0] = at(20, 10);
    const [bottomRed = 0, , bottomBlue = 0] = at(20, 70);
    expect(topBlue).toBeGreaterThan(topRed);
    expect(bottomRed).toBeGreaterThan(bottomBlue);
  });

  test("no longer than the longest side, and never blown up", async () => {
    const large = await readPicture(await sharp({ create: { width: 2400, height: 1200, channels: 3, background: "#885544" } }).webp().toBuffer());
    expect(large.ok && [large.value.width, large.value.height]).toEqual([LONGEST_SIDE, LONGEST_SIDE / 2]);
    const small = await readPicture(await sharp({ create: { width: 30, height: 20, channels: 4, background: "#88554480" } }).png().toBuffer());
    expect(small.ok && [small.value.width, small.value.height]).toEqual([30, 20]);
  });

  test("another file hidden behind the picture does not come along", async () => {
    const picture = await readPicture(Buffer.concat([await offThePhone(), Buffer.from("<script>alert(1)</script>PK\x03\x04")]));
    if (!picture.ok) throw new Error(picture.problems[0]?.sentence);
    expect(picture.value.jpeg.includes(Buffer.from("<script>"))).toBe(false);
    expect(picture.value.jpeg.subarray(-2)).toEqual(Buffer.from([0xff, 0xd9]));
  });
});

describe("what is not a photo is told so", () => {
  const REFUSED: readonly (readonly [what: string, sent: Uint8Array, code: string])[] = [
    ["nothing", new Uint8Array(), "no-photo"],
    ["a drawing with a script", Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'), "not-a-picture"],
    ["a page", Buffer.from("<!doctype html><p>Hello"), "not-a-picture"],
    ["a page that begins like a JPEG", Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.from("<html><script>alert(1)</script></html>")]), "damaged"],
    ["a document", Buffer.from("%PDF-1.7\n"), "not-a-picture"],
    ["a moving picture", Buffer.from("GIF89a\x01\x00\x01\x00"), "not-a-picture"],
    ["what a phone keeps for itself", Buffer.from("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic", "latin1"), "heic"],
    ["more than fits", Buffer.concat([Buffer.from([0xff, 0xd8, 0xff]), Buffer.alloc(LARGEST_PICTURE)]), "too-large"],
    ["a few kilobytes that unpack to 3,600 million points", bomb(60_000, 60_000), "too-many-points"],
  ];
  test.each(REFUSED)("%s", async (_what, sent, code) => {
    expect(await codeOf(sent)).toBe(code);
  });

  test("a photo cut off half-way", async () => {
    const sent = await sharp({ create: { width: 600, height: 600, channels: 3, noise: { type: "gaussian", mean: 128, sigma: 30 }, background: "#000" } }).jpeg().toBuffer();
    expect(await codeOf(sent.subarray(0, sent.length / 2))).toBe("damaged");
  });
});

/** A PNG of one shade that says how large it is in its first lines. */
function bomb(width: number, height: number): Buffer {
  const crcOf = (bytes: Buffer): number => {
    let crc = 0xffffffff;
    for (const byte of bytes) {
      crc ^= byte;
      for (let bit = 0; bit < 8; bit += 1) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
    }
    return (crc ^ 0xffffffff) >>> 0;
  };
  const chunk = (type: string, data: Buffer): Buffer => {
    const body = Buffer.concat([Buffer.from(type, "latin1"), data]);
    const [length, crc] = [Buffer.alloc(4), Buffer.alloc(4)];
    length.writeUInt32BE(data.length);
    crc.writeUInt32BE(crcOf(body));
    return Buffer.concat([length, body, crc]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([1, 0, 0, 0, 0], 8);
  return Buffer.concat([Buffer.from("\x89PNG\r\n\x1a\n", "latin1"), chunk("IHDR", head), chunk("IDAT", deflateSync(Buffer.alloc(1_000_000))), chunk("IEND", Buffer.alloc(0))]);
}
