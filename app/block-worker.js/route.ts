/**
 * The small program that lets the page at the block open again without a connection: it keeps the last of each page at the
 * block and what these pages are made of. Pages come from the server whenever that answers; what was typed is kept
 * elsewhere (components/block/sheet-keeper.ts). Signing out clears it (it is told "forget").
 */
const SOURCE = `
const KEPT = "trimledger-block-1";
const page = (url) => /^\\/block\\/[^/]+$/.test(url.pathname);
const piece = (url) => url.pathname.startsWith("/_next/static/");
self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("message", (event) => {
  if (event.data === "forget") { event.waitUntil(caches.delete(KEPT)); return; }
  if (!Array.isArray(event.data)) return;
  event.waitUntil(caches.open(KEPT).then((kept) => Promise.all(event.data.map(async (address) => {
    const url = new URL(address, self.location.origin);
    if (url.origin !== self.location.origin || !(page(url) || piece(url))) return;
    if (piece(url) && await kept.match(url)) return;
    const answer = await fetch(url, { credentials: "same-origin" }).catch(() => null);
    if (answer && answer.ok && !answer.redirected) await kept.put(url, answer);
  }))));
});
self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) return;
  if (event.request.mode === "navigate" && page(url)) {
    event.respondWith((async () => {
      const kept = await caches.open(KEPT);
      try {
        const answer = await fetch(event.request);
        if (answer.ok && !answer.redirected) await kept.put(url.pathname, answer.clone());
        return answer;
      } catch (error) {
        const last = await kept.match(url.pathname);
        if (last) return last;
        throw error;
      }
    })());
  } else if (piece(url)) {
    event.respondWith((async () => {
      const kept = await caches.open(KEPT);
      const last = await kept.match(url);
      if (last) return last;
      const answer = await fetch(event.request);
      if (answer.ok) await kept.put(url, answer.clone());
      return answer;
    })());
  }
});
`;

export function GET(): Response {
  return new Response(SOURCE, { headers: { "Content-Type": "text/javascript; charset=utf-8", "Cache-Control": "no-cache", "Service-Worker-Allowed": "/block" } });
}
