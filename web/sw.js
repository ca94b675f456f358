// The service worker. The build puts Workbox and MATSIDE_BUILD ({version, shownAs, precache, languages}) before this text
// and one block around all of it, so that a script that was cut short does not parse and is never put in place.
//
// A version is installed whole or not at all: each file is checked against its SHA-256, and the version before it stays
// in use, with all its files, until the page asks for the new one. Its files stay even then while tabs may show it.
//
// A language but English is kept once it was spoken: its files are fetched when they are asked for, and a version is whole
// only with those of the languages that are kept, and of the one that the asking page speaks.
//
// page → service worker, each with a MessagePort for the reply
//   {check: name, language}   → {version, missing: [URL, …]}: what the cache lacks; `name` is what the asking page goes by
//   {repair: true, language}  → {version, missing, fault?}: the same, after fetching what was lacking, and why that ended
//   {takeOver: true}          the waiting version becomes the active one
// service worker → page
//   {gaveUp: {version, kind, detail}}   this version could not be installed
// A kind of fault is "storage" (no room), "network" (not to be reached), or "host" (what it sends does not belong there).

/* global workbox, MATSIDE_BUILD */

const { core, precaching, routing } = workbox;
const { version, shownAs, precache, languages } = MATSIDE_BUILD;

core.setCacheNameDetails({ prefix: "matside", suffix: `v1-${registration.scope}` });
core.clientsClaim();

const controller = new precaching.PrecacheController();
controller.addToCacheList(precache);
const page = controller.createHandlerBoundToURL("index.html");
const root = new URL("./", registration.scope);

// The files of languages by their whole URL: {language, url, integrity, size}. Their names have a hash, so they are kept
// under them.
const spoken = new Map(
  Object.entries(languages).flatMap(([language, entries]) =>
    entries.map((entry) => [new URL(entry.url, location).href, { ...entry, language }]),
  ),
);

const files = () => caches.open(controller.strategy.cacheName);
const ownKeys = () => [...controller.getURLsToCacheKeys().values(), ...spoken.keys()];

// ---- answering the page's requests

routing.registerRoute(new precaching.PrecacheRoute(controller));
// The pattern page is for contributors, and never kept.
routing.registerRoute(new routing.NavigationRoute(navigated, { denylist: [/\/patterns\.html(\?|$)/] }));
routing.registerRoute(({ url }) => spoken.has(url.href), spokenFile);
routing.registerRoute(({ url, sameOrigin }) => sameOrigin && isHashed(url), olderFile);
routing.registerRoute(({ url, sameOrigin }) => sameOrigin && url.pathname === `${root.pathname}share`, shared, "POST");

// The page has one address; an older or mistyped one below it leads there, because the page's links are relative.
function navigated(options) {
  const { pathname, search } = options.url;
  const here = [root.pathname, `${root.pathname}index.html`].includes(pathname);
  return here ? page(options) : Response.redirect(root.href + search);
}

function isHashed({ pathname }) {
  return pathname.startsWith(root.pathname) && /^[a-z]+-[0-9a-f]{16}\//.test(pathname.slice(root.pathname.length));
}

// A language that is asked for is kept from then on, if there is room for it.
async function spokenFile({ url: { href } }) {
  const held = await files();
  const kept = await held.match(href);
  if (kept) return kept;
  const response = await fetched(href);
  if (!response?.ok) return response ?? Response.error();
  await held.put(href, response.clone()).catch(() => {});
  return response;
}

// What another app shares with the installed page is put where the page finds it (web/passing/shared.js).
async function shared({ request }) {
  const form = await request.formData();
  const file = form.get("file");
  const said = ["url", "text", "title"].map((name) => form.get(name)).find(Boolean) ?? "";
  const place = await caches.open(`matside-shared-${registration.scope}`);
  await place.put(new URL("shared", root), new Response(file instanceof File ? file : said));
  return Response.redirect(`${root.href}#plan/shared`, 303);
}

// A tab that was open when this version came in goes on with the files that it began with.
async function olderFile({ request }) {
  return (await (await files()).match(request.url)) ?? fetch(request);
}

// ---- installing: whole or not at all

self.addEventListener("install", (event) => event.waitUntil(install()));

class Fault extends Error {
  constructor(kind, detail) {
    super(`${kind}: ${detail}`);
    Object.assign(this, { kind, detail });
  }
}

async function install() {
  if (await activeRecord()) await tidy(); // a version that never came in may have left files
  const before = new Set(await keptKeys());
  try {
    await checkRoom();
    await fetchAll();
  } catch (error) {
    const { kind, detail } = fault(error);
    if (kind === "storage") await drop((key) => !before.has(key)); // what is counted needs room, too
    await tell({ gaveUp: { version, kind, detail } });
    throw error;
  }
}

// Workbox takes files with hashed names from the browser's own HTTP cache if they are there. A damaged copy in it would
// stand in the way for ever, so what is lacking afterwards is fetched once more, past that cache. The event that
// Workbox gets is a stand-in: its own failure must not yet be the end.
async function fetchAll() {
  const attempt = { type: "install", waitUntil: () => {} };
  await controller.install(attempt).catch((error) => {
    if (isFull(error)) throw error;
  });
  await fetchLacking();
}

async function fetchLacking(language) {
  const kept = await files();
  for (const url of (await missing(language)).missing) await keep(url, kept);
}

async function keep(url, kept) {
  const response = await fetched(url);
  if (!response?.ok) throw await whyNot(url);
  await kept.put(controller.getCacheKeyForURL(url) ?? url, response);
}

// A file as it was built, past the browser's own cache; null where there is none.
function fetched(url) {
  const integrity = spoken.get(url)?.integrity ?? controller.getIntegrityForCacheKey(controller.getCacheKeyForURL(url));
  return fetch(url, { integrity, cache: "reload" }).catch(() => null);
}

// A browser tells one failure from another only when it may read what came.
async function whyNot(url) {
  try {
    const response = await fetch(url, { cache: "no-store" });
    await response.arrayBuffer();
    return new Fault("host", `${response.status} ${url}`);
  } catch (error) {
    return new Fault("network", `${error} ${url}`);
  }
}

// The browser's estimate is asked first: filling the last of the room for a version that does not fit would take it
// from what is counted meanwhile.
async function checkRoom() {
  const { quota = 0, usage = 0 } = (await navigator.storage?.estimate?.()) ?? {};
  const lacking = new Set((await missing()).missing);
  const wanted = [...precache, ...spoken.values()]
    .filter(({ url }) => lacking.has(new URL(url, location).href))
    .reduce((sum, { size = 0 }) => sum + size, 0);
  if (quota && quota - usage < wanted) throw new Fault("storage", `${wanted} bytes wanted, ${quota - usage} left`);
}

function fault(error) {
  if (error instanceof Fault) return error;
  return new Fault(isFull(error) ? "storage" : "network", String(error));
}

function isFull({ name }) {
  return name === "QuotaExceededError";
}

async function tell(message) {
  for (const client of await windows()) client.postMessage(message);
}

async function windows() {
  const all = await clients.matchAll({ type: "window", includeUncontrolled: true });
  return all.filter(({ url }) => url.startsWith(root.href));
}

// ---- coming in, and letting go of what no tab needs any more

// Which versions' files are in use: one entry a version, {version, keys}, and under "active" the one that came in last.
const inUse = () => caches.open(`matside-in-use-${registration.scope}`);

self.addEventListener("activate", (event) => event.waitUntil(comeIn()));

async function comeIn() {
  if (!(await windows()).length) await letOthersGo();
  const records = await inUse();
  await records.delete(new URL("active", root)); // an older one must not stand where a full disk refuses the new one
  await record(records).catch(() => {});
  await tidy();
}

async function letOthersGo() {
  await caches.delete(`matside-in-use-${registration.scope}`);
}

async function record(records) {
  const text = JSON.stringify({ version, keys: ownKeys() });
  for (const name of [version, "active"]) await records.put(new URL(name, root), new Response(text));
}

async function activeRecord() {
  return (await (await inUse()).match(new URL("active", root)))?.json();
}

// Deletes every kept file that neither this version nor one in use has.
async function tidy() {
  const records = await inUse();
  const held = await Promise.all((await records.keys()).map(async (name) => (await records.match(name)).json()));
  const needed = new Set([...ownKeys(), ...held.flatMap(({ keys }) => keys)]);
  await drop((key) => !needed.has(key));
}

// Once the tab that asks is the only one, and shows this version, the files of those before may go.
async function letGo({ data, source }) {
  const [only, ...others] = await windows();
  if (data.check !== shownAs || only?.id !== source?.id || others.length) return;
  const active = await activeRecord();
  if (
    active?.version !== version ||
    registration.waiting ||
    registration.installing ||
    (await (await inUse()).keys()).length <= 2
  )
    return;
  await letOthersGo();
  await comeIn();
}

async function keptKeys() {
  return (await (await files()).keys()).map(({ url }) => url);
}

async function drop(unwanted) {
  const kept = await files();
  for (const key of (await keptKeys()).filter(unwanted)) await kept.delete(key);
}

// ---- what the page asks

const actions = { check, repair, takeOver: () => self.skipWaiting() };

self.addEventListener("message", (event) => {
  const name = Object.keys(actions).find((each) => each in (event.data ?? {}));
  if (!name) return;
  const reply = (message) => event.ports[0]?.postMessage(message);
  event.waitUntil(
    actions[name](event).then(reply, (error) => reply({ version, missing: ["?"], fault: plain(fault(error)) })),
  );
});

async function missing(language) {
  const kept = new Set(await keptKeys());
  const wanted = new Set([language, ...[...kept].map(languageOf)]);
  const own = [...controller.getURLsToCacheKeys()].filter(([, key]) => !kept.has(key)).map(([url]) => url);
  const told = [...spoken].filter(([url, entry]) => wanted.has(entry.language) && !kept.has(url)).map(([url]) => url);
  return { version, missing: [...own, ...told] };
}

// The language that a kept file is of, in whichever version.
function languageOf(url) {
  return /\/app-[0-9a-f]{16}\/(?:words|glossary)\/([a-z]{2})\.json$/.exec(url)?.[1];
}

// Whole is a version that has every file and answers with its own page.
async function check(event) {
  await letGo(event).catch(() => {});
  const found = await missing(event.data.language);
  if (!found.missing.length && !(await answersItsPage(event))) found.missing.push(root.href);
  return found;
}

async function answersItsPage(event) {
  const response = await navigated({ event, url: root, request: new Request(root) });
  const digest = await crypto.subtle.digest("SHA-256", await response.arrayBuffer());
  const { integrity } = precache.find(({ url }) => url === "index.html");
  return integrity === `sha256-${btoa(String.fromCharCode(...new Uint8Array(digest)))}`;
}

async function repair(event) {
  const why = await fetchLacking(event.data.language).then(
    () => null,
    (error) => plain(fault(error)),
  );
  return { ...(await check(event)), ...(why && { fault: why }) };
}

function plain({ kind, detail }) {
  return { kind, detail };
}
