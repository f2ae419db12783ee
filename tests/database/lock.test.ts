/** The lock on the data folder: living owners are named, dead ones succeeded, by one successor however many try. */
import { spawn } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { birthOf, FolderInUse, lockFolder } from "@/lib/store/database/lock";
import type { LockOwner } from "@/lib/store/database/lock";

let folder: string;
const lockPath = (): string => `${folder}.lock`;

beforeEach(() => {
  folder = path.join(fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-lock-")), "postgres");
});
afterEach(() => {
  fs.rmSync(path.dirname(folder), { recursive: true, force: true });
});

function leave(owner: Partial<LockOwner>): void {
  fs.writeFileSync(lockPath(), JSON.stringify({ pid: process.pid, host: os.hostname(), born: birthOf(process.pid), since: "2026-11-25T09:00:00.000Z", token: "left-behind", ...owner }));
}

/** A process that has certainly ended. */
async function deadPid(): Promise<number> {
  const child = spawn(process.execPath, ["-e", ""]);
  await new Promise((resolve) => child.once("exit", resolve));
  return child.pid ?? -1;
}

describe("a living owner", () => {
  test("in this very process is refused", () => {
    const first = lockFolder(folder);
    expect(() => lockFolder(folder)).toThrow(/already open in this process/);
    first.release();
    lockFolder(folder).release();
  });

  test("in another process is named, with what to do", async () => {
    const child = spawn(process.execPath, ["-e", "setTimeout(() => {}, 30000)"]);
    await new Promise((resolve) => child.once("spawn", resolve));
    try {
      const pid = child.pid ?? -1;
      leave({ pid, born: birthOf(pid) });
      expect(() => lockFolder(folder)).toThrow(FolderInUse);
      expect(() => lockFolder(folder)).toThrow(new RegExp(`in use by process ${pid} on .*DATA_DIR`));
    } finally {
      child.kill();
    }
  });

  test("on another host cannot be judged from here, and the message says so", () => {
    leave({ host: "another-kitchen", pid: 1 });
    expect(() => lockFolder(folder)).toThrow(/process 1 on another-kitchen.*Only that machine can tell/);
  });

  test("is refused even when only its id and host are known", () => {
    leave({ born: null });
    expect(() => lockFolder(folder)).toThrow(FolderInUse);
  });
});

describe("a dead owner", () => {
  test("is succeeded", async () => {
    leave({ pid: await deadPid() });
    const lock = lockFolder(folder);
    expect(JSON.parse(fs.readFileSync(lockPath(), "utf8"))).toMatchObject({ pid: process.pid, token: lock.owner.token });
    lock.release();
    expect(fs.readdirSync(path.dirname(folder))).toEqual([]);
  });

  test.runIf(birthOf(process.pid) !== null)("whose id was given to another process is told from it", () => {
    leave({ pid: process.pid, born: "an-earlier-boot/12345" });
    lockFolder(folder).release();
  });

  test.runIf(process.platform === "linux")("nobody has asked after (a zombie) is succeeded", async () => {
    // The shell starts a process, then becomes one that never asks how it ended.
    const parent = spawn("sh", ["-c", "sleep 0.3 & echo $!; exec sleep 30"], { stdio: ["ignore", "pipe", "ignore"] });
    try {
      const pid = Number(await new Promise((resolve) => parent.stdout.once("data", (piece: Buffer) => { resolve(piece.toString()); })));
      await vi.waitFor(() => { expect(fs.readFileSync(`/proc/${pid}/stat`, "utf8")).toMatch(/\) Z /); });
      leave({ pid, born: birthOf(pid) });
      lockFolder(folder).release();
    } finally {
      parent.kill();
    }
  });

  test("is succeeded by exactly one of many processes, again and again", async () => {
    const code = `
      import { lockFolder } from ${JSON.stringify(path.resolve("lib/store/database/lock.ts"))};
      try { lockFolder(${JSON.stringify(folder)}); console.log("got it"); setTimeout(() => process.kill(process.pid, "SIGKILL"), 3000); }
      catch (error) { console.log(error.name); }
    `;
    for (let round = 0; round < 2; round += 1) {
      if (round === 0) leave({ pid: await deadPid() });
      const answers = await Promise.all(Array.from({ length: 6 }, () => answerOf(code)));
      expect(answers.filter((answer) => answer === "got it")).toHaveLength(1);
      expect(answers.filter((answer) => answer === "FolderInUse")).toHaveLength(5);
      // Every winner is killed, so that the next round finds a dead owner again.
    }
  });

  test("who died while succeeding another is succeeded as well", async () => {
    leave({ pid: await deadPid(), token: "first" });
    fs.writeFileSync(`${lockPath()}.after-first`, fs.readFileSync(lockPath(), "utf8").replace('"first"', '"second"'));
    lockFolder(folder).release();
    expect(fs.readdirSync(path.dirname(folder))).toEqual([]);
  });
});

test("a lock that is no lock is left alone, and the message says what to delete", () => {
  fs.writeFileSync(lockPath(), "not a lock");
  expect(() => lockFolder(folder)).toThrow(/delete that file/);
  expect(fs.readFileSync(lockPath(), "utf8")).toBe("not a lock");
});

test("releasing a lock that somebody else has succeeded to leaves theirs", () => {
  const lock = lockFolder(folder);
  leave({ token: "somebody-else" });
  lock.release();
  expect(fs.existsSync(lockPath())).toBe(true);
});

function answerOf(code: string): Promise<string> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, ["--import", "tsx", "--input-type=module", "-e", code], { stdio: ["ignore", "pipe", "inherit"] });
    let out = "";
    child.stdout.on("data", (piece: Buffer) => {
      out += piece.toString();
    });
    child.once("close", () => { resolve(out.trim()); });
  });
}
