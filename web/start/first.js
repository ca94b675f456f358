// What is fetched before anything can be shown: words and facts. A copy that is damaged is asked for
// once more, past the cache.

/** The sentences of every subject merged: refusals under "error", the rest under the subject's own name. */
export async function loadCatalogue(language = "en") {
  return twice(`words/${language}.json`, ({ page, error }) => page && error);
}

/** What the core says of kinds of cloth, rulers, habits and the guide's table. */
export async function loadFacts() {
  return twice("facts.json", ({ ok, kinds, table }) => ok && kinds && table);
}

/** The trade's words and their pictures, which only a list of words needs. */
export async function loadGlossary(language = "en") {
  return twice(`glossary/${language}.json`, ({ terms, pictures }) => terms && pictures);
}

async function twice(name, isWhole) {
  try {
    return await loaded(name, isWhole, "default");
  } catch {
    return loaded(name, isWhole, "reload");
  }
}

async function loaded(name, isWhole, cache) {
  const found = await fetch(new URL(`../${name}`, import.meta.url), { cache });
  if (!found.ok) throw new Error(`${name} is not there (${found.status})`);
  const content = await found.json();
  if (!isWhole(content)) throw new Error(`${name} is not what it should be`);
  return content;
}
