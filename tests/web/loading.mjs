// Loads the words of languages as the page does, without a page: reads {app, languages} from standard input, `app` being
// the application folder, and writes {language: {words, terms}}.

import { readFile } from "node:fs/promises";
import { text } from "node:stream/consumers";

const { app, languages } = JSON.parse(await text(process.stdin));
globalThis.fetch = async (url) => ({ ok: true, json: async () => JSON.parse(await readFile(url, "utf-8")) });
const { loadCatalogue, loadGlossary } = await import(`${app}/start/first.js`);

const found = {};
for (const language of languages)
  found[language] = { words: await loadCatalogue(language), terms: (await loadGlossary(language)).terms };
process.stdout.write(JSON.stringify(found));
