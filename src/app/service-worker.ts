/**
 * Keeps the page on the device, whole: every file of one build, checked against the digests that the build wrote down,
 * so that files of two builds are never mixed. A newer build waits until a person takes it.
 * Built as a file of its own; it imports nothing, since browsers that cannot run modules here would not start it.
 */
const worker = self as unknown as ServiceWorkerGlobalScope;

/** Put in by the build: its name, and each file with its digest. */
declare const __BUILD__: string;
declare const __FILES__: readonly (readonly [path: string, integrity: string])[];
const BUILD = __BUILD__;
const FILES = __FILES__;

/** One name for each folder that the page is served from, since folders of one server share their caches. */
const CACHES = `hollowline ${new URL(worker.registration.scope).pathname} `;
const CACHE = `${CACHES}${BUILD}`;
/** Where the page itself is kept. Never as `index.html`, which some servers answer with another address. */
const PAGE = './';
/** Files whose names change with their content: the same name is the same file, whichever build kept it. */
const NAMED_BY_CONTENT = 'assets/';

const addressOf = (path: string): string => new URL(path, worker.registration.scope).href;
const INTEGRITY = new Map(FILES.map(([path, integrity]) => [path, integrity]));

worker.addEventListener('install', (event) => event.waitUntil(keepAll()));
worker.addEventListener('activate', (event) => event.waitUntil(takeOver()));
worker.addEventListener('message', (event) => {
  if (event.data === 'use_now') void worker.skipWaiting();
  if (event.data === 'which_build') event.ports[0]?.postMessage(BUILD);
});
worker.addEventListener('fetch', (event) => {
  const path = keptPath(event.request);
  if (path !== null) event.respondWith(answer(path, event.request));
});

/** The page comes last: a cache that has it is complete. */
async function keepAll(): Promise<void> {
  const cache = await caches.open(CACHE);
  const [pages, pieces] = [FILES.filter(([path]) => path === PAGE), FILES.filter(([path]) => path !== PAGE)];
  await Promise.all(pieces.map((file) => keepFile(cache, file)));
  await Promise.all(pages.map((file) => keepFile(cache, file)));
}

async function keepFile(cache: Cache, [path, integrity]: (typeof FILES)[number]): Promise<void> {
  const address = addressOf(path);
  if (await cache.match(address)) return;
  const had = path.startsWith(NAMED_BY_CONTENT) ? await caches.match(address) : undefined;
  // A file that is not the one of this build is refused here, and with it the whole build: the old one stays.
  const response = had ?? (await fetch(address, { integrity, cache: 'no-cache' }));
  if (!response.ok) throw new Error(`${path}: ${response.status}`);
  // A browser does not open a page with an answer that was led on from another address.
  const { redirected, body, headers } = response;
  await cache.put(address, redirected ? new Response(body, { headers }) : response);
}

/** The build before this one is kept for pages that still run it; older ones, and what was left half done, go. */
async function takeOver(): Promise<void> {
  const others = (await caches.keys()).filter((name) => name.startsWith(CACHES) && name !== CACHE);
  const complete = await Promise.all(others.map(async (name) => (await caches.open(name)).match(addressOf(PAGE))));
  const before = others.filter((_, i) => complete[i]).at(-1);
  await Promise.all(others.filter((name) => name !== before).map((name) => caches.delete(name)));
  await worker.clients.claim();
}

/** The kept file that a request means; null for what is left to the network, like a survey that a server brings. */
function keptPath(request: Request): string | null {
  if (request.method !== 'GET') return null;
  const { origin, pathname } = new URL(request.url);
  const scope = new URL(worker.registration.scope);
  if (origin !== scope.origin || !pathname.startsWith(scope.pathname)) return null;
  const path = pathname.slice(scope.pathname.length);
  if (path === '' || path === 'index.html') return PAGE;
  return INTEGRITY.has(path) || path.startsWith(NAMED_BY_CONTENT) ? path : null;
}

async function answer(path: string, request: Request): Promise<Response> {
  const address = addressOf(path);
  const own = await (await caches.open(CACHE)).match(address);
  if (own) return own;
  // A page of the build before asks for its own pieces; their names cannot be mistaken.
  const older = path.startsWith(NAMED_BY_CONTENT) ? await caches.match(address) : undefined;
  if (older) return older;
  // What the browser has thrown away is fetched again, and only if it is the same.
  const integrity = INTEGRITY.get(path);
  return integrity && request.mode !== 'navigate' ? fetch(address, { integrity }) : fetch(request);
}
