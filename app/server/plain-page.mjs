/**
 * A page for what never reaches the app: an address that cannot be read, a body too long, a database that is gone. In
 * the app's look (app/globals/tokens.css), whole in itself, for the app may not be there to serve its style sheet.
 */

const style = `:root{color-scheme:light dark;--paper:#f7f4ec;--sheet:#fffefa;--ink:#1e1c18;--ink-2:#5b554b;--margin:#dfa89d;--act:#1b5744}
@media(prefers-color-scheme:dark){:root{--paper:#141310;--sheet:#1c1a16;--ink:#efe9dc;--ink-2:#b5ac9b;--margin:#7a4038;--act:#8fd0b5}}
body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.5 "Source Sans 3",system-ui,sans-serif;overflow-wrap:break-word}
main{box-sizing:border-box;max-width:44rem;min-height:100vh;margin:0 auto;padding:3rem 1.5rem 3rem 4rem;background:linear-gradient(90deg,transparent 2.5rem,var(--margin) 2.5rem 2.5625rem,transparent 2.5625rem),var(--sheet)}
h1{margin:0 0 1rem;font:600 1.75rem/1.2 "Source Serif 4",Georgia,serif}p{margin:0 0 1rem}.say{font:1.125rem/1.45 "Source Serif 4",Georgia,serif}
small{color:var(--ink-2)}a{color:var(--act)}@media(max-width:40em){main{padding-left:2.5rem;background:linear-gradient(90deg,transparent 1.25rem,var(--margin) 1.25rem 1.3125rem,transparent 1.3125rem),var(--sheet)}}`;

/**
 * @param {{ readonly title: string, readonly sentence: string, readonly requestId: string, readonly nonce: string }} of
 */
export function plainPage({ title, sentence, requestId, nonce }) {
  return `<!doctype html>
<html lang="en" data-request="${escape(requestId)}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="/icon.svg">
<title>${escape(title)} · Trimledger</title>
<style nonce="${escape(nonce)}">${style}</style>
</head>
<body>
<main>
<h1>${escape(title)}</h1>
<p class="say">${escape(sentence)}</p>
<p><a href="/">Open the book</a></p>
<p><small>If it happens again, tell whoever looks after the app this number: ${escape(requestId.slice(0, 8))}</small></p>
</main>
</body>
</html>
`;
}

/** @param {string} text */
function escape(text) {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");
}
