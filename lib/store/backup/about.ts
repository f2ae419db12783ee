/** Which version of the app this is, from package.json: what a backup says of itself. */
import fs from "node:fs";
import path from "node:path";
import { z } from "zod";

export function thisVersion(): string {
  const text = fs.readFileSync(path.join(process.cwd(), "package.json"), "utf8");
  return z.object({ version: z.string() }).parse(JSON.parse(text)).version;
}
