/**
 * What the page may load and run: its own files and nothing else. No script or style from text, no `blob:`, no
 * address but its own. Also written into the page itself when it is built, for servers that send no headers.
 */
export const PAGE_POLICY = [
  "default-src 'self'",
  // SQLite, which writes GeoPackages, is WebAssembly; that allows no script made from text.
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  // Figures are drawn from their own text when they are saved as PNG.
  "img-src 'self' data:",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

/** A page cannot say this about itself; only a server can. */
const SERVER_POLICY = `${PAGE_POLICY}; frame-ancestors 'none'`;

export const SECURITY_HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': SERVER_POLICY,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cache-Control': 'no-cache',
};
