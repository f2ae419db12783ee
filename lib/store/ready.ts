/**
 * Whether the app's database can be worked with this moment: it answers within two seconds, and has every migration
 * that this version knows. For whatever decides if requests are sent to this process; `why` names no place and no
 * secret.
 */
import { database } from "./database";
import { readMigrations } from "./database/migrations";

export type Readiness = { readonly ok: true } | { readonly ok: false; readonly why: string };

/** In milliseconds. */
const PATIENCE = 2_000;

/** Never throws. */
export async function databaseIsReady(patience = PATIENCE, opened: () => ReturnType<typeof database> = database): Promise<Readiness> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<Readiness>((resolve) => {
    timer = setTimeout(() => { resolve({ ok: false, why: `the database did not answer within ${patience / 1000} seconds` }); }, patience);
  });
  try {
    return await Promise.race([ask(opened), late]);
  } catch {
    return { ok: false, why: "the database cannot be asked" };
  } finally {
    clearTimeout(timer);
  }
}

async function ask(opened: () => ReturnType<typeof database>): Promise<Readiness> {
  const { prisma } = await opened();
  const rows = await prisma.$queryRaw<{ name: string }[]>`SELECT migration_name AS name FROM _prisma_migrations WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL`;
  const applied = new Set(rows.map(({ name }) => name));
  const missing = readMigrations().migrationDirectories.filter(({ path }) => !applied.has(path));
  return missing.length === 0 ? { ok: true } : { ok: false, why: `${missing.length} of its migrations ${missing.length === 1 ? "is" : "are"} not applied` };
}
