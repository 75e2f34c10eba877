// @ts-check
/**
 * The service worker: keeps the files of one build in the browser, so that the
 * hosted page works without network after the first visit.
 *
 * A build is kept whole or not at all, and answers all requests of its pages, so
 * that files of two builds never meet. The next one waits until the person
 * takes it or has closed the page; then the former is thrown away.
 */

/** What the build is made of; the task that makes it writes this here. @type {{version: string, files: string[]}} */
const build = /** @type {any} */ (globalThis).LOFTKIN_BUILD;

/** The types of service workers and of pages exclude each other. @type {any} */
const worker = globalThis;

/** The caches of this page; others may share the host. */
const OURS = `loftkin ${worker.registration.scope} `;
const STORE = OURS + build.version;

worker.addEventListener('install', (/** @type {any} */ event) => event.waitUntil(keep()));

worker.addEventListener('activate', (/** @type {any} */ event) => event.waitUntil(throwFormerAway()));

worker.addEventListener('message', (/** @type {any} */ event) => {
  if (event.data === 'take over') worker.skipWaiting();
});

worker.addEventListener('fetch', (/** @type {any} */ event) => {
  if (event.request.method === 'GET' && event.request.url.startsWith(worker.registration.scope)) event.respondWith(answer(event.request));
});

async function keep() {
  const store = await caches.open(STORE);
  // What the browser holds already is asked for anew, but not sent again where the host knows that it is the same.
  await store.addAll(build.files.map((file) => new Request(new URL(file, worker.registration.scope), { cache: 'no-cache' })));
}

async function throwFormerAway() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(OURS) && name !== STORE).map((name) => caches.delete(name)));
  // Pages that were opened before there was a worker.
  await worker.clients.claim();
}

/** @param {Request} request */
async function answer(request) {
  const store = await caches.open(STORE);
  const address = new URL(request.url);
  const file = address.href.slice(worker.registration.scope.length).split(/[?#]/)[0] || 'index.html';
  return (await store.match(new URL(file, worker.registration.scope))) ?? fetch(request);
}
