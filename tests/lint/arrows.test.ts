/** The rooms' arrows and the purity of the arithmetic rooms, proved on snippets that break them. */
import { ESLint } from "eslint";
import tseslint from "typescript-eslint";
import { beforeAll, describe, expect, test } from "vitest";

let eslint: ESLint;
beforeAll(() => {
  // Snippets are not files of the project, so rules that need types are off; those proved here need none.
  eslint = new ESLint({ overrideConfig: [tseslint.configs.disableTypeChecked as never] });
});

async function complaints(file: string, code: string): Promise<string[]> {
  const [result] = await eslint.lintText(code, { filePath: file });
  return (result?.messages ?? []).map((message) => `${message.ruleId}: ${message.message}`);
}

const refused: [why: string, file: string, code: string, says: RegExp][] = [
  ["measure imports a room above", "lib/measure/x.ts", 'export * from "@/lib/book";', /rooms\/arrows.*downwards/],
  ["a room above by a relative path", "lib/yield/x.ts", 'export * from "../cascade";', /rooms\/arrows.*only measure, not lib\/cascade/],
  ["a room above by a type alone", "lib/book/x.ts", 'import type { Ripple } from "@/lib/cascade"; export type R = Ripple;', /rooms\/arrows/],
  ["a room above in an import type", "lib/book/x.ts", 'export type R = import("@/lib/cascade").Ripple;', /rooms\/arrows/],
  ["a room above by a dynamic import", "lib/menu/x.ts", 'export const store = () => import("@/lib/store");', /rooms\/arrows/],
  ["a room below by a side door", "lib/cascade/x.ts", 'export * from "@/lib/book/item";', /front door/],
  ["a room below by a relative path", "lib/cascade/deep/x.ts", 'export * from "../../book";', /front door/],
  ["its own room by the alias", "lib/book/x.ts", 'export * from "@/lib/book";', /imports are relative/],
  ["lib imports components", "lib/store/x.ts", 'export * from "@/components/form/Field";', /does not know what stands outside/],
  ["lib imports app", "lib/access/x.ts", 'export * from "../../app/actions";', /does not know what stands outside/],
  ["a pure room imports React", "lib/menu/x.ts", 'import { useState } from "react"; export { useState };', /pure arithmetic/],
  ["a pure room imports Prisma", "lib/book/x.ts", 'export * from "@prisma/client";', /pure arithmetic/],
  ["a pure room imports Node", "lib/exchange/x.ts", 'import fs from "node:fs"; export { fs };', /pure arithmetic/],
  ["a pure room imports Next", "lib/menu/x.ts", 'export * from "next/cache";', /pure arithmetic/],
  ["a pure room imports the generated client", "lib/menu/x.ts", 'export * from "@/prisma/generated/client";', /does not know/],
  ["app reaches into the store", "app/dishes/page.tsx", 'export * from "@/lib/store/database";', /front door/],
  ["app reaches the generated client", "app/dishes/page.tsx", 'export * from "@/prisma/generated/client";', /through lib\/store/],
  ["a component takes values of the store", "components/dish/X.tsx", 'export { openStore } from "@/lib/store";', /import type/],
  ["a component imports a route", "components/dish/X.tsx", 'export * from "@/app/dishes/actions";', /does not know the route/],
  ["a room nobody has drawn", "lib/helpers/x.ts", 'export * from "@/lib/measure";', /not a room/],
  ["the clock in a pure room", "lib/yield/x.ts", "export const now = () => Date.now();", /no clock/],
  ["today in a pure room", "lib/yield/x.ts", "export const today = () => new Date();", /no clock/],
  ["chance in a pure room", "lib/cascade/x.ts", "export const roll = () => Math.random();", /no chance/],
  ["the process in a pure room", "lib/book/x.ts", "export const dir = () => process.cwd();", /no machine/],
  ["any", "lib/store/x.ts", "export function f(x: any) { return x as unknown; }", /no-explicit-any/],
  ["a Decimal of one's own", "lib/yield/x.ts", 'export { default } from "decimal.js";', /one context/],
];

const allowed: [why: string, file: string, code: string][] = [
  ["a room below by its front door", "lib/cascade/x.ts", 'export * from "@/lib/book";'],
  ["its own room by a relative path", "lib/store/database/x.ts", 'export * from "../commit";'],
  ["the store and the generated client", "lib/store/database/x.ts", 'export { PrismaClient } from "@/prisma/generated/client";'],
  ["the store and Node", "lib/store/x.ts", 'import fs from "node:fs"; export { fs };'],
  ["app by the front door", "app/dishes/page.tsx", 'export { openStore } from "@/lib/store";'],
  ["a component and a type of the store", "components/dish/X.tsx", 'import type { LiveBook } from "@/lib/store"; export type B = LiveBook;'],
  ["a date that was given", "lib/measure/x.ts", "export const day = (text: string) => new Date(text);"],
];

describe("refused", () => {
  test.each(refused)("%s", async (_why, file, code, says) => {
    expect((await complaints(file, code)).join("\n")).toMatch(says);
  });
});

describe("allowed", () => {
  test.each(allowed)("%s", async (_why, file, code) => {
    expect(await complaints(file, code)).toEqual([]);
  });
});
