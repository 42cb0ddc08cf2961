// Keeps the bench's page in this browser, so that a reload shows it while the workbench is stopped
// or the laptop sleeps. What is done meanwhile waits in the page's own store (bench.js). Browsers
// allow this on the laptop itself; over the home network, without https, they do not.
const PAGES = "unwheat bench";
/** Milliseconds; longer than any answer takes that comes at all. */
const PATIENCE = 4000;
/** Most batches whose pages are kept. */
const MOST = 6;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (e) => e.waitUntil(self.clients.claim()));

// The page names itself and what it is made of.
self.addEventListener("message", (e) => {
  const { keep, forget } = e.data;
  e.waitUntil(keep ? store(keep) : caches.open(PAGES).then((c) => c.delete(forget)));
});

async function store(paths) {
  const cache = await caches.open(PAGES);
  await Promise.allSettled(paths.map(async (path) => {
    const answer = await fetch(path, { cache: "no-store" });
    if (!answer.ok || answer.redirected) return;
    await cache.delete(path);
    await cache.put(path, answer);
  }));
  const pages = (await cache.keys()).filter((r) => new URL(r.url).pathname.startsWith("/bench/"));
  await Promise.all(pages.slice(0, -MOST).map((r) => cache.delete(r)));
}

self.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (url.origin !== location.origin) return;
  const page = e.request.mode === "navigate";
  if (e.request.method !== "GET") {
    if (page) e.respondWith(fetch(e.request).catch(() => asleep(url)));
  } else if (page || url.pathname.startsWith("/assets/")) {
    e.respondWith(answer(e.request, page, url));
  }
});

/** When an answer was last waited for in vain. */
let vain = 0;

/** What the workbench says; what is kept where it says nothing. */
async function answer(request, page, url) {
  // A page has many files: they are not waited for one by one.
  const patience = Date.now() - vain < 15000 ? 300 : PATIENCE;
  const late = new Promise((done) => { setTimeout(done, patience); });
  try {
    const got = await Promise.race([fetch(request), late]);
    if (got) { vain = 0; return got; }
    vain = Date.now();
  } catch { /* it does not answer */ }
  const kept = await caches.match(request, { ignoreSearch: true });
  return kept ?? (page ? asleep(url) : Response.error());
}

/** A page of our own where none is kept. */
function asleep(url) {
  const id = /^\/bench\/\d+/.exec(url.pathname)?.[0] ?? "/";
  const body = `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark"><title>No answer · unwheat</title><link rel="stylesheet" href="/assets/workbench.css"></head><body><main id="main"><h1>The workbench does not answer</h1><p>It was stopped, or this laptop slept. What you did at the bench is kept in this browser. Start unwheat again, then go on.</p><p><a class="button do" href="${id}">Back to the bench</a></p></main></body></html>`;
  return new Response(body, {
    status: 503,
    headers: {
      "content-type": "text/html; charset=utf-8",
      "content-security-policy": "default-src 'none'; style-src 'self'; font-src 'self'",
    },
  });
}
