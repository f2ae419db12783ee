/**
 * Prisma's schema engine, called from here. Prisma 7 applies migrations only through its command, which downloads a
 * native engine and knows nothing of driver adapters; the same engine as WebAssembly (@prisma/schema-engine-wasm)
 * takes the adapter that the app's own client uses, so that one set of migrations serves the embedded database and a
 * server, with nothing downloaded. The package expects a bundler to load its .wasm; here it is instantiated by hand.
 */
import fs from "node:fs";
import path from "node:path";
import { bindMigrationAwareSqlAdapterFactory } from "@prisma/driver-adapter-utils";
import type { SqlDriverAdapter, SqlMigrationAwareDriverAdapterFactory } from "@prisma/driver-adapter-utils";
import * as bindings from "@prisma/schema-engine-wasm/schema_engine_bg";
import type { SchemaEngine, SchemasContainer } from "@prisma/schema-engine-wasm/schema_engine_bg";

export type { SchemaEngine };

/** Every path here is seen from the project's root, which is where its commands run. */
const root = (): string => process.cwd();

export const schemaPath = (): string => path.join(root(), "prisma", "schema.prisma");
export const migrationsPath = (): string => path.join(root(), "prisma", "migrations");
const enginePath = (): string => path.join(root(), "node_modules", "@prisma", "schema-engine-wasm", "schema_engine_bg.wasm");

/** The bindings are one module to the whole process, while this one may be bundled several times: load them once. */
const home = globalThis as { trimledgerSchemaEngine?: true };

function load(): void {
  if (home.trimledgerSchemaEngine === true) return;
  const module = new WebAssembly.Module(fs.readFileSync(enginePath()));
  const instance = new WebAssembly.Instance(module, { "./schema_engine_bg.js": bindings as unknown as WebAssembly.ModuleImports });
  bindings.__wbg_set_wasm(instance.exports);
  (instance.exports.__wbindgen_start as () => void)();
  home.trimledgerSchemaEngine = true;
}

/**
 * Runs `work` with a schema engine on the database behind `adapter`; afterwards frees the engine and closes the
 * connections it opened, which it does not do itself (they hold its lock on the migrations until they are closed).
 */
export async function withSchemaEngine<T>(adapter: SqlMigrationAwareDriverAdapterFactory, work: (engine: SchemaEngine) => Promise<T>): Promise<T> {
  load();
  const opened: SqlDriverAdapter[] = [];
  const remember = async (connection: Promise<SqlDriverAdapter>): Promise<SqlDriverAdapter> => {
    opened.push(await connection);
    return connection;
  };
  const remembering = {
    provider: adapter.provider,
    adapterName: adapter.adapterName,
    connect: () => remember(adapter.connect()),
    connectToShadowDb: () => remember(adapter.connectToShadowDb()),
  };
  try {
    const engine = await bindings.SchemaEngine.new({ datamodels: undefined }, () => undefined, bindMigrationAwareSqlAdapterFactory(remembering));
    try {
      return await work(engine);
    } finally {
      engine.free();
    }
  } finally {
    for (const connection of opened) await connection.dispose();
  }
}

/** prisma/schema.prisma as the engine takes it. */
export function readSchema(): SchemasContainer {
  return { files: [{ path: schemaPath(), content: fs.readFileSync(schemaPath(), "utf8") }] };
}
