// The modules of the page, which it names in templates: each link that is put into it begins a request, and many at once
// would keep a tap waiting.

const ASKED = 5;
const LOADED = 3;

/** Asks for all modules that a template names, without waiting. */
export function askFor(template) {
  document.head.append(...named(template));
}

/** The same, a few at a time; `pause()` resolves when the next are to be asked for. */
export async function askForInTime(template, pause) {
  while (named(template).length) {
    document.head.append(...named(template).slice(0, ASKED));
    await pause();
  }
}

/**
 * Loads the modules that a template names a few at a time, those that need no other first, so that what imports them
 * later has nothing to wait for. One that cannot be had is left to whoever needs it.
 */
export async function loadInTime(template, pause) {
  const urls = named(template).map((link) => new URL(link.getAttribute("href"), document.baseURI).href);
  while (urls.length) {
    await pause();
    await Promise.allSettled(urls.splice(-LOADED).map((url) => import(url)));
  }
}

function named(template) {
  return [...(document.getElementById(template)?.content.children ?? [])];
}

/** Resolves once what has happened meanwhile is seen to. */
export function breath() {
  return new Promise((resolve) => setTimeout(resolve));
}
