// The service worker. The build puts Workbox and MATSIDE_BUILD ({version, precache}) before this text.
//
// A version is installed whole or not at all: each file is checked against its SHA-256, and the version before it
// stays in use, with all its files, until the page asks for the new one.
//
// page → service worker, each with a MessagePort for the reply
//   {check: true}     → {version, missing: [URL, …]}: what the cache lacks of this version
//   {repair: true}    → {version, missing}: the same, after fetching what was lacking
//   {takeOver: true}  the waiting version becomes the active one

/* global workbox, MATSIDE_BUILD */

const { core, precaching, routing } = workbox;

core.setCacheNameDetails({ prefix: "matside", suffix: `v1-${registration.scope}` });
core.clientsClaim();

const controller = new precaching.PrecacheController();
controller.addToCacheList(MATSIDE_BUILD.precache);

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", controller.activate);

// Workbox takes files with hashed names from the browser's own HTTP cache if they are there. A damaged copy in it would
// stand in the way for ever, so what is lacking afterwards is fetched once more, past that cache. The event that Workbox
// gets is a stand-in: its own failure must not yet be the end.
async function install() {
  const attempt = { type: "install", waitUntil: () => {} };
  const found = await controller.install(attempt).then(missing, repair);
  if (found.missing.length) throw new Error(`not to be had whole: ${found.missing.join(" ")}`);
}

const page = controller.createHandlerBoundToURL("index.html");
const root = new URL("./", registration.scope);

routing.registerRoute(new precaching.PrecacheRoute(controller));
routing.registerRoute(new routing.NavigationRoute(navigated));

// The page has one address; an older or mistyped one below it leads there, because the page's links are relative.
function navigated(options) {
  const { pathname, search } = options.url;
  const here = [root.pathname, `${root.pathname}index.html`].includes(pathname);
  return here ? page(options) : Response.redirect(root.href + search);
}

const actions = { check: missing, repair, takeOver: () => self.skipWaiting() };

self.addEventListener("message", (event) => {
  const name = Object.keys(actions).find((each) => each in (event.data ?? {}));
  if (!name) return;
  const reply = (message) => event.ports[0]?.postMessage(message);
  event.waitUntil(actions[name]().then(reply, (error) => reply({ error: String(error) })));
});

async function missing() {
  const cache = await caches.open(controller.strategy.cacheName);
  const keys = [...controller.getURLsToCacheKeys()];
  const there = await Promise.all(keys.map(([, key]) => cache.match(key)));
  return { version: MATSIDE_BUILD.version, missing: keys.map(([url]) => url).filter((_, i) => !there[i]) };
}

async function repair() {
  const cache = await caches.open(controller.strategy.cacheName);
  for (const url of (await missing()).missing) {
    const key = controller.getCacheKeyForURL(url);
    const integrity = controller.getIntegrityForCacheKey(key);
    const response = await fetch(url, { integrity, cache: "reload" }).catch(() => null); // still missing, then
    if (response?.ok) await cache.put(key, response);
  }
  return missing();
}
