// Tells the examples of the catalogue's syntax by the page's own reading of it, without a page: reads
// {module, examples, catalogues} from standard input and writes the texts, null where there is none.

import { text } from "node:stream/consumers";

const { module, examples, catalogues } = JSON.parse(await text(process.stdin));
const { Words } = await import(module);

function told({ sentence, values, language, units, lie = {} }) {
  const own = catalogues[language];
  const catalogue = { ...own, lie: { ...own.lie, ...lie }, example: { it: sentence } };
  try {
    return new Words(catalogue, { language, units, locale: language }).say("example.it", values);
  } catch {
    return null;
  }
}

process.stdout.write(JSON.stringify(examples.map(told)));
