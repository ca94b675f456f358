// What can wait until nothing else is to be done.

/** Resolves when the page has nothing to do, or after a second; soon where the browser cannot tell. */
export function idle() {
  return new Promise((resolve) => {
    if (globalThis.requestIdleCallback) requestIdleCallback(resolve, { timeout: 1000 });
    else setTimeout(resolve, 50);
  });
}
