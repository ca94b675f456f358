// The name that this version of the page, and its service worker, go by.

/** `sw-<hash>.js`, the worker's name that belongs to this version alone; null in a page that was not built. */
export function ownName() {
  return document.querySelector('meta[name="matside-worker"]')?.content ?? null;
}
