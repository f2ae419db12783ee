/**
 * One migrated, empty database made before the store tests, which each take a copy: a copy takes a tenth of a second,
 * a database from nothing several.
 */
import type { TestProject } from "vitest/node";
import { openDatabase } from "@/lib/store/database";
import { emptyDatabase } from "./test-database";

declare module "vitest" {
  export interface ProvidedContext {
    /** The template: a data folder, or a server's URL. */
    databaseTemplate: string;
  }
}

export default async function makeTemplate(project: TestProject): Promise<() => Promise<void>> {
  const template = await emptyDatabase(project.name === "store-server" ? "server" : "embedded");
  await (await openDatabase(template.choice)).close();
  project.provide("databaseTemplate", "url" in template.choice ? template.choice.url : template.choice.folder);
  return template.remove;
}
