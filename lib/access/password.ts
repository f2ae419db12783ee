/**
 * Passwords: what makes one good enough, and how it is kept. Length is what counts (NIST SP 800-63B: no rules of
 * composition, a list of common ones, at least eight characters; we ask ten), and it must not be the person's own name.
 * Kept as scrypt, a memory-hard function: N 2^16, r 8, p 2, so 64 MiB for every guess, on Node's own threads. The
 * parameters stand in the hash, so that they can be raised without losing anybody.
 */
import { randomBytes, scrypt, timingSafeEqual } from "node:crypto";
import { type Problem } from "@/lib/measure";
import { COMMON_PASSWORDS } from "./common-passwords";

const SHORTEST = 10;
const LONGEST = 200;

/** What is wrong with a new password, at the field `path`; nothing when it will do. */
export function passwordProblems(password: string, about: { readonly name: string; readonly username: string }, path = "password"): readonly Problem[] {
  const wrong = (code: string, sentence: string): readonly Problem[] => [{ path, code, sentence }];
  const length = [...password].length;
  if (length < SHORTEST) return wrong("too-short", `The password has ${length} ${length === 1 ? "character" : "characters"}; use at least ${SHORTEST}. A few words in a row are easy to remember and hard to guess.`);
  if (length > LONGEST) return wrong("too-long", `The password has ${length.toLocaleString("en-US")} characters; at most ${LONGEST} fit.`);
  const plain = password.normalize("NFKC").toLowerCase();
  if (COMMON_PASSWORDS.has(plain) || new Set(plain).size < 4) return wrong("too-common", "That password is among the first that anybody would try. Take a few words that belong together only for you.");
  const own = [about.username, ...about.name.split(/\s+/)].map((word) => word.normalize("NFKC").toLowerCase()).filter((word) => word.length >= 4);
  const left = own.reduce((rest, word) => rest.replaceAll(word, ""), plain);
  if (left.length < 6 && left.length < plain.length) return wrong("own-name", "The password is little more than your own name. Take a few words that nobody would guess of you.");
  return [];
}

const COST = { N: 2 ** 16, r: 8, p: 2 } as const;
const KEY_LENGTH = 64;

interface Cost {
  readonly N: number;
  readonly r: number;
  readonly p: number;
}

function derive(password: string, salt: Buffer, { N, r, p }: Cost): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    scrypt(password.normalize("NFKC"), salt, KEY_LENGTH, { N, r, p, maxmem: 128 * N * r * 2 }, (error, key) => {
      if (error) reject(error);
      else resolve(key);
    });
  });
}

/** "scrypt$65536$8$2$<salt>$<key>", salt and key in base64url. */
export async function hashPassword(password: string): Promise<string> {
  const salt = randomBytes(16);
  const key = await derive(password, salt, COST);
  return ["scrypt", COST.N, COST.r, COST.p, salt.toString("base64url"), key.toString("base64url")].join("$");
}

export async function verifyPassword({ hash, password }: { readonly hash: string; readonly password: string }): Promise<boolean> {
  const [name, N, r, p, salt, key] = hash.split("$");
  if (name !== "scrypt" || !N || !r || !p || !salt || !key) throw new Error("expected a password hash of ours");
  const wanted = Buffer.from(key, "base64url");
  const found = await derive(password, Buffer.from(salt, "base64url"), { N: Number(N), r: Number(r), p: Number(p) });
  return wanted.length === found.length && timingSafeEqual(wanted, found);
}
