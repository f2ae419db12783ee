/**
 * Lint rules. Three things matter here beyond the usual: the arrows between the rooms of lib/ (tests/lint/arrows.mjs),
 * purity of the arithmetic rooms (no clock, no chance, no machine), and no `any`.
 */
import reactHooks from "eslint-plugin-react-hooks";
import tseslint from "typescript-eslint";
import { arrows, pureRooms } from "./tests/lint/arrows.mjs";

const root = import.meta.dirname;
const everyScript = ["**/*.{ts,tsx,mts}"];
const impureGlobal = (name) => ({ name, message: "A pure room has no clock, no chance and no machine: take it as an argument." });

export default tseslint.config(
  { ignores: ["node_modules/", ".next/", "prisma/generated/", "next-env.d.ts", "data/", "test-results/", "playwright-report/", "coverage/"] },
  { linterOptions: { reportUnusedDisableDirectives: "error" } },
  { files: everyScript, extends: [tseslint.configs.strict] },
  {
    files: everyScript,
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: root } },
    rules: {
      "@typescript-eslint/no-explicit-any": "error",
      "@typescript-eslint/ban-ts-comment": ["error", { "ts-ignore": true, "ts-nocheck": true, "ts-expect-error": "allow-with-description" }],
      "@typescript-eslint/consistent-type-imports": ["error", { fixStyle: "separate-type-imports" }],
      "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_", ignoreRestSiblings: true }],
      "@typescript-eslint/no-floating-promises": "error",
      "@typescript-eslint/no-misused-promises": ["error", { checksVoidReturn: { attributes: false } }],
      "@typescript-eslint/await-thenable": "error",
      "@typescript-eslint/switch-exhaustiveness-check": ["error", { considerDefaultExhaustiveForUnions: true }],
      "no-console": "error",
      eqeqeq: "error",
      "no-restricted-imports": ["error", { paths: [{ name: "decimal.js", message: 'Take Decimal from "@/lib/measure": one context, 34 digits.' }] }],
    },
  },
  {
    // The one Decimal context is made here; tests and the bench judge it with contexts of their own.
    files: ["lib/measure/**", "tests/**"],
    rules: { "no-restricted-imports": "off" },
  },
  {
    // What runs as a command or as the server's own voice speaks on the console.
    files: ["prisma/*.ts", "tests/**", "instrumentation.ts", "lib/store/database/**", "*.config.{ts,mts}"],
    rules: { "no-console": "off" },
  },
  { files: ["app/**/*.tsx", "components/**/*.tsx", "app/**/*.ts", "components/**/*.ts"], ...reactHooks.configs.flat["recommended-latest"] },
  {
    files: ["lib/**/*.{ts,tsx}", "app/**/*.{ts,tsx}", "components/**/*.{ts,tsx}"],
    plugins: { rooms: { rules: { arrows } } },
    rules: { "rooms/arrows": ["error", { root }] },
  },
  {
    files: pureRooms.map((room) => `lib/${room}/**/*.ts`),
    rules: {
      "no-restricted-globals": ["error", ...["process", "performance", "crypto", "fetch", "setTimeout", "setInterval", "window", "document", "navigator", "localStorage", "Buffer"].map(impureGlobal)],
      "no-restricted-properties": [
        "error",
        { object: "Date", property: "now", message: "A pure room has no clock: take the date as an argument." },
        { object: "Math", property: "random", message: "A pure room has no chance: take what was drawn as an argument." },
      ],
      "no-restricted-syntax": [
        "error",
        { selector: "NewExpression[callee.name='Date'][arguments.length=0]", message: "A pure room has no clock: take the date as an argument." },
        { selector: "CallExpression[callee.name='Date']", message: "A pure room has no clock: take the date as an argument." },
      ],
    },
  },
);
