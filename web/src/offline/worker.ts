// The service worker: the page's own files, fonts and engine are read from what is kept here; what the server says about
// fields, parts and rules is kept as it was last, and pictures below plans, which never change. Sites, edits, answers and drawings are kept by the page (store.ts), not here.
/// <reference lib="webworker" />
export {};
declare const self: ServiceWorkerGlobalScope;

const kFiles = '__FILES__' as unknown as string[]; // filled in by vite.config.ts
const kPage = 'page-__EDITION__';
const kKept = 'kept-1';
const kFonts = ['B612-Regular.otf', 'B612-Bold.otf', 'NotoSans-Regular.ttf', 'NotoSans-Bold.ttf'].map((name) => `/fonts/${name}`);
const kEngine = ['/engine/engine.mjs', '/engine/zoneproof_engine.mjs', '/engine/zoneproof_engine.wasm'];

/** The engine need not be there (a program built without it); a font can come later. */
async function keepIfThere(kept: Cache, file: string): Promise<void> {
  try {
    const response = await fetch(file);
    if (response.ok) await kept.put(file, response);
    else await response.body?.cancel(); // a body that nobody reads holds its connection for good
  } catch {
    // it is asked for again when the page wants it
  }
}

self.addEventListener('install', (event) => {
  event.waitUntil(
    (async () => {
      const page = await caches.open(kPage);
      await page.addAll(kFiles.map((file) => new Request(file, { cache: 'reload' })));
      const kept = await caches.open(kKept);
      for (const file of [...kFonts, ...kEngine]) await keepIfThere(kept, file);
      await self.skipWaiting();
    })(),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name.startsWith('page-') && name !== kPage) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

/** From the network, and kept; without one as it was last. */
async function newestFirst(request: Request): Promise<Response> {
  const kept = await caches.open(kKept);
  try {
    const response = await fetch(request);
    if (response.ok) await kept.put(request, response.clone());
    return response;
  } catch (fault) {
    const found = await kept.match(request);
    if (found) return found;
    throw fault;
  }
}
async function keptFirst(request: Request): Promise<Response> {
  return (await caches.match(request, { ignoreSearch: false })) ?? newestFirst(request);
}
/** The page itself: what the server has now; where it is away, what is kept. */
async function page(): Promise<Response> {
  return (await (await caches.open(kPage)).match('/')) ?? fetch('/');
}

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== self.location.origin) return;
  if (request.mode === 'navigate' && pathname === '/') event.respondWith(page());
  else if (kFiles.includes(pathname) || pathname.startsWith('/fonts/') || pathname.startsWith('/api/files/')) event.respondWith(keptFirst(request));
  else if (pathname.startsWith('/engine/') || ['/api/parts', '/api/rules'].includes(pathname)) event.respondWith(newestFirst(request));
});
