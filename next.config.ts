/**
 * How Next builds and serves the app. Packages that read their own files at run time (WebAssembly, drivers) stay
 * outside the bundle. Types are checked by `npm test`, not again at every start. Pages may load and talk to nothing but
 * this server.
 */
import type { NextConfig } from "next";

const serving = process.env.NODE_ENV === "production";

/** Next puts small scripts of its own into each page, hence 'unsafe-inline'; a developer's build also evaluates code. */
const contentSecurity = [
  "default-src 'self'",
  `script-src 'self' 'unsafe-inline'${serving ? "" : " 'unsafe-eval'"}`,
  "style-src 'self' 'unsafe-inline'",
  "img-src 'self' data: blob:",
  "object-src 'none'",
  "base-uri 'self'",
  "form-action 'self'",
  "frame-ancestors 'none'",
].join("; ");

const config: NextConfig = {
  poweredByHeader: false,
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
  ],
  headers: () =>
    Promise.resolve([
      {
        source: "/:path*",
        headers: [
          { key: "Content-Security-Policy", value: contentSecurity },
          { key: "X-Content-Type-Options", value: "nosniff" },
          { key: "Referrer-Policy", value: "same-origin" },
        ],
      },
    ]),
};

export default config;
