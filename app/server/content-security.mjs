/**
 * What a page may load and run: the app's own files, and the inline scripts that carry this answer's nonce. Next reads
 * the nonce from the request's Content-Security-Policy header and puts it into the scripts it writes; hence pages are
 * rendered for each request, none beforehand. Nothing comes from elsewhere.
 */

/**
 * @param {string} nonce
 * @param {{ readonly dev: boolean }} mode
 */
export function contentSecurity(nonce, { dev }) {
  return [
    "default-src 'self'",
    // Scripts that carry the nonce may load further ones (strict-dynamic), as Next does for its pieces; 'self' is for
    // browsers that do not know that word. A developer's build evaluates code.
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'${dev ? " 'unsafe-eval'" : ""}`,
    // A developer's build puts style elements of its own into the page.
    `style-src 'self' ${dev ? "'unsafe-inline'" : `'nonce-${nonce}'`}`,
    // Charts (recharts) and React write style attributes into the page; an attribute runs nothing and loads nothing that
    // the other lines do not allow.
    "style-src-attr 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join("; ");
}
