/**
 * One installation with its owner, Chef, and the demo kitchen open, made once; each that a test needs begins as a copy
 * of its data folder, which is quicker than walking through the first day each time. Those that tell of the first day
 * begin empty (`begins: "empty"`).
 */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { OWNER, openDemo } from "../http/arrive";
import { startApp } from "../running-app";
import { TEMPLATE } from "./app";
import { PASSWORD } from "./steps";

export default async function makeTemplate(): Promise<() => void> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-browser-template-"));
  const app = await startApp(folder);
  await openDemo(app.url, { ...OWNER, password: PASSWORD });
  await app.stop();
  process.env[TEMPLATE] = folder;
  return () => { fs.rmSync(folder, { recursive: true, force: true }); };
}
