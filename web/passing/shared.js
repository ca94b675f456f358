// What another app shared with the installed page: the service worker has put it into a cache, from where it is taken once.

const NAME = /^matside-shared-/;

/** A blob with what was shared last; null where there is nothing. */
export async function takeShared() {
  try {
    for (const name of (await caches.keys()).filter((each) => NAME.test(each))) {
      const answer = await (await caches.open(name)).match(new URL("shared", document.baseURI));
      await caches.delete(name);
      if (answer) return await answer.blob();
    }
  } catch {
    // Nothing was shared where there are no caches.
  }
  return null;
}
