const policy = (tilesFrom: string): string =>
  [
    "default-src 'self'",
    // SQLite, which writes GeoPackages, is WebAssembly; that allows no script made from text.
    "script-src 'self' 'wasm-unsafe-eval'",
    "style-src 'self'",
    // Figures are drawn from their own text when they are saved as PNG.
    `img-src 'self' data:${tilesFrom}`,
    "font-src 'self'",
    `connect-src 'self'${tilesFrom}`,
    "worker-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');

/**
 * What the page may load and run: its own files and nothing else. No script or style from text, no `blob:`, no
 * address but its own. Also written into the page itself when it is built, for servers that send no headers.
 */
export const PAGE_POLICY = policy('');

/** The page beside it, opened by who wants tiles from the network: these come from any address that is asked safely. */
export const ONLINE_PAGE = 'online.html';
export const ONLINE_POLICY = policy(' https:');

/** What a page cannot say about itself; only a server can. */
const withFrames = (said: string): string => `${said}; frame-ancestors 'none'`;

export const SECURITY_HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': withFrames(PAGE_POLICY),
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cache-Control': 'no-cache',
};

/** The headers of a file of the built app: the page that may load tiles has a policy of its own, everything else none but the strict one. */
export const headersOf = (name: string): Readonly<Record<string, string>> =>
  name === ONLINE_PAGE
    ? { ...SECURITY_HEADERS, 'Content-Security-Policy': withFrames(ONLINE_POLICY) }
    : SECURITY_HEADERS;
