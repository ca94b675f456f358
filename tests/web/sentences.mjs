// Tells the examples of the catalogue's syntax by the page's own reading of it, without a page: reads
// {module, examples, catalogues} from standard input and writes the texts, null where there is none. An example that has
// `refusal` instead of a sentence is a refusal of the core, told as the page tells it.

import { text } from "node:stream/consumers";

const { module, examples, catalogues } = JSON.parse(await text(process.stdin));
const { Words } = await import(module);

function told({ sentence, values, language, units, lie = {}, refusal }) {
  const own = catalogues[language];
  const catalogue = { ...own, lie: { ...own.lie, ...lie }, example: { it: sentence } };
  try {
    const words = new Words(catalogue, { language, units, locale: language });
    return refusal ? words.refusal(refusal) : words.say("example.it", values);
  } catch {
    return null;
  }
}

process.stdout.write(JSON.stringify(examples.map(told)));
