/**
 * How Next builds and serves the app. Packages that read their own files at run time (WebAssembly, drivers) stay
 * outside the bundle. Types are checked by `npm test`, not again at every start. The headers of every answer are set by
 * our own server (app/server/).
 */
import type { NextConfig } from "next";

const config: NextConfig = {
  poweredByHeader: false,
  // forbidden(): a page that is not the visitor's to open answers 403 with a page of its own.
  experimental: { authInterrupts: true },
  typescript: { ignoreBuildErrors: true },
  turbopack: { root: import.meta.dirname },
  serverExternalPackages: [
    "@electric-sql/pglite",
    "pglite-prisma-adapter",
    "@prisma/adapter-pg",
    "@prisma/client",
    "@prisma/driver-adapter-utils",
    "@prisma/schema-engine-wasm",
    "pg",
    "sharp",
  ],
};

export default config;
