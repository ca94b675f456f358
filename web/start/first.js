// What is fetched before anything can be shown: words and facts. A copy that is damaged is asked for
// once more, past the cache.

const ENGLISH = "en";

/**
 * The sentences of every subject merged: refusals under "error", the rest under the subject's own name. Another language
 * than English is kept without the names of its sentences, which are those of the English ones.
 */
export async function loadCatalogue(language = ENGLISH) {
  return worded(`words/${language}.json`, language, ({ page, error }) => page && error);
}

/** The catalogue of a language, or the English one where that cannot be had: {catalogue, language}. */
export async function loadWords(language) {
  try {
    return { catalogue: await loadCatalogue(language), language };
  } catch (error) {
    if (language === ENGLISH) throw error;
    return { catalogue: await loadCatalogue(), language: ENGLISH };
  }
}

/** What the core says of kinds of cloth, rulers, habits and the guide's table. */
export async function loadFacts() {
  return twice("facts.json", ({ ok, kinds, table }) => ok && kinds && table);
}

/** The trade's words and their pictures, which only a list of words needs. */
export async function loadGlossary(language = ENGLISH) {
  const [{ terms }, pictures] = await Promise.all([
    worded(`glossary/${language}.json`, language, (found) => found.terms),
    twice("glossary/pictures.json", (found) => Object.keys(found).length > 0),
  ]);
  return { terms, pictures, language };
}

/** Whether the files of a language are to be had; with a service worker it keeps them from then on. */
export async function fetchLanguage(language) {
  return Promise.all([loadCatalogue(language), loadGlossary(language)]).then(
    () => true,
    () => false,
  );
}

async function worded(name, language, isWhole) {
  const english = twice(name.replace(/[^/]+$/, `${ENGLISH}.json`), isWhole);
  if (language === ENGLISH) return english;
  const [frame, own] = await Promise.all([english, twice(name, ({ sentences, more }) => sentences && more)]);
  return named(frame, own);
}

/** A language's sentences under the names of the English ones. */
function named(english, { sentences, more, ...about }) {
  const left = sentences.values();
  const filled = (inside) =>
    Object.fromEntries(
      Object.entries(inside).map(([name, each]) => [name, isSentence(each) ? left.next().value : filled(each)]),
    );
  return { ...about, ...joined(filled(english), more) };
}

function isSentence(found) {
  return typeof found === "string" || typeof found.other === "string";
}

function joined(one, other) {
  const isInBoth = (name) => typeof one[name] === "object" && name in other;
  return {
    ...other,
    ...Object.fromEntries(
      Object.entries(one).map(([name, each]) => [name, isInBoth(name) ? joined(each, other[name]) : each]),
    ),
  };
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
