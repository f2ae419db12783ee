/**
 * The rooms of lib/ and the arrows between them, as a lint rule.
 *
 * lib/ is cut into rooms, each readable alone; imports run one way, downwards. A room is entered by its front door
 * only: "@/lib/<room>", that is its index. Inside a room imports are relative and stay inside. The pure rooms are
 * arithmetic: nothing of React, Next, Prisma or Node may be imported there (clock and chance are forbidden in
 * eslint.config.mjs beside this rule). app/ and components/ use the rooms and are never used by them; components,
 * which may end up in the browser, know the store and the access room by their types alone.
 *
 * Paths are resolved before they are judged, so "../../menu" and "@/lib/menu/target" are seen for what they are, in
 * static and dynamic imports, re-exports and type imports alike.
 */
import path from "node:path";

/** Each room with the rooms it may import. Order is from the ground up. */
export const rooms = {
  measure: [],
  yield: ["measure"],
  book: ["measure", "yield"],
  cascade: ["measure", "yield", "book"],
  menu: ["measure", "yield", "book", "cascade"],
  buying: ["measure", "yield", "book", "cascade", "menu"],
  exchange: ["measure", "book"],
  store: ["measure", "yield", "book", "cascade", "menu", "buying", "exchange"],
  access: ["measure", "book", "store"],
};

export const pureRooms = ["measure", "yield", "book", "cascade", "menu", "buying", "exchange"];

/** Packages whose presence would make a room impure, besides everything of Node itself. */
const impure = /^(node:|react($|[/-])|next($|\/)|@prisma\/|prisma($|\/)|@electric-sql\/|pglite|pg($|\/)|(fs|path|os|crypto|child_process|worker_threads|http|https|net|url|util|stream|process|perf_hooks)($|\/))/;

/** What an import names, seen from the project's root: "lib/menu/target", or null for a package. */
function placeOf(specifier, fromDirectory) {
  if (specifier.startsWith("@/")) return path.posix.normalize(specifier.slice(2));
  if (specifier.startsWith(".")) return path.posix.normalize(path.posix.join(fromDirectory, specifier));
  return null;
}

function roomOf(place) {
  const [top, room] = place.split("/");
  return top === "lib" ? (room ?? "") : null;
}

/** The sentence against an import, or null when it is allowed. `file` is relative to the project's root, with "/". */
export function judge(file, specifier, { typeOnly = false } = {}) {
  const top = file.split("/")[0];
  if (!["lib", "app", "components"].includes(top)) return null;
  const room = roomOf(file);
  const place = placeOf(specifier, path.posix.dirname(file));

  if (place === null) {
    if (room !== null && pureRooms.includes(room) && impure.test(specifier)) {
      return `lib/${room} is pure arithmetic and may not import "${specifier}".`;
    }
    return null;
  }

  if (room === null) return judgeFromOutside(top, place, specifier, typeOnly);

  if (!(room in rooms)) return `lib/${room} is not a room: add it, with what it may import, to the table in tests/lint/arrows.mjs.`;
  const target = roomOf(place);
  if (target === null) {
    // The generated Prisma client lies outside lib/ because Prisma writes it; the store alone may use it.
    if (room === "store" && (place === "prisma/generated" || place.startsWith("prisma/generated/"))) return null;
    return `lib/${room} may not import "${specifier}": lib/ does not know what stands outside it.`;
  }
  if (target === room) {
    return specifier.startsWith("@/") ? `Inside lib/${room} imports are relative, not "${specifier}".` : null;
  }
  if (!rooms[room].includes(target)) {
    const allowed = rooms[room].length === 0 ? "no other room" : `only ${rooms[room].join(", ")}`;
    return `lib/${room} may import ${allowed}, not lib/${target}: the arrows run downwards.`;
  }
  return specifier === `@/lib/${target}` ? null : `Enter lib/${target} by its front door, "@/lib/${target}", not "${specifier}".`;
}

function judgeFromOutside(top, place, specifier, typeOnly) {
  const target = roomOf(place);
  if (target === null) {
    if (place.split("/")[0] === "prisma") return `${top}/ may not import "${specifier}": the database is reached through lib/store.`;
    if (top === "components" && place.split("/")[0] === "app") return `components/ may not import "${specifier}": a component does not know the route it stands in.`;
    return null;
  }
  if (specifier !== `@/lib/${target}`) return `Enter lib/${target} by its front door, "@/lib/${target}", not "${specifier}".`;
  if (top === "components" && ["store", "access"].includes(target) && !typeOnly) {
    return `components/ may take types from lib/${target}, not values: a component is given what it shows ("import type").`;
  }
  return null;
}

export const arrows = {
  meta: {
    type: "problem",
    docs: { description: "imports between the rooms of lib/ run downwards and through the front door" },
    schema: [{ type: "object", properties: { root: { type: "string" } }, required: ["root"], additionalProperties: false }],
    messages: { arrow: "{{sentence}}" },
  },
  create(context) {
    const root = context.options[0].root;
    const file = path.relative(root, context.filename).split(path.sep).join("/");

    function check(source, typeOnly) {
      if (source?.type !== "Literal" || typeof source.value !== "string") return;
      const sentence = judge(file, source.value, { typeOnly });
      if (sentence !== null) context.report({ node: source, messageId: "arrow", data: { sentence } });
    }

    return {
      ImportDeclaration: (node) => check(node.source, node.importKind === "type"),
      ExportNamedDeclaration: (node) => check(node.source, node.exportKind === "type"),
      ExportAllDeclaration: (node) => check(node.source, node.exportKind === "type"),
      ImportExpression: (node) => check(node.source, false),
      TSImportType: (node) => check(node.source ?? node.argument?.literal, true),
    };
  },
};
