// The page's own modules for what is passed on, without a page: lists of [what, argument] on standard input, one a line; for
// each a line with the list of answers on standard output. A refusal is {refused: code}.
//
//   node passing.mjs APP < asks

import { readFile } from "node:fs/promises";
import { createInterface } from "node:readline";

const [app] = process.argv.slice(2);
const here = (path) => import(`${app}/${path}`);
const [
  { checksum },
  letters,
  { packed, unpacked },
  { DICTIONARY },
  { framesOf, RATE, Receiver },
  { codeOf },
  { readPart },
  { Refused },
  { Validator },
  { likeness, planOf, pointed },
  { textIn, saidFor },
  { exampleQuilt },
  { inOrderOf, likenessOfCut, packedLayouts, startOf },
] = await Promise.all(
  [
    "passing/checksum.js",
    "passing/letters.js",
    "passing/packed.js",
    "passing/dictionary.js",
    "passing/stream.js",
    "passing/codes.js",
    "copies/reading.js",
    "copies/refused.js",
    "vendor/json-schema/index.js",
    "passing/plan.js",
    "passing/address.js",
    "lib/quilt/example.js",
    "passing/layouts.js",
  ].map(here),
);
const validator = new Validator(JSON.parse(await readFile(new URL(`${app}/copies/schema.json`), "utf-8")), "2020-12");
const bytes = (list) => Uint8Array.from(list);
const listed = (found) => found && [...found];

/** The plan of the example, as the page passes it on. */
function example({ usual: { in: usual }, choices }) {
  const { quilt, basket } = exampleQuilt(usual, (code) => code);
  const cloth = { kind: usual.cloth, length: "", width: "", one_way: false };
  const count = { units: "in", piece: usual.piece, cloth, cloths: 1, way: "best" };
  const [grain] = choices.grains;
  const typed = [{ ...usual.typed, length: "", fabric: "" }];
  const whole = { units: "in", from: "quilt", typed, left_out: [], grain, skipped: [], ...basket };
  const said = { title: "", date: "" };
  return planOf({ count, quilt, basket: whole }, { id: "example123", units: "in", said });
}

const DOES = {
  example,
  checksum: (list) => checksum(bytes(list)),
  toAddress: (list) => letters.toAddress(bytes(list)),
  fromAddress: (said) => listed(letters.fromAddress(said)),
  toDense: (list) => letters.toDense(bytes(list)),
  fromDense: (said) => listed(letters.fromDense(said)),
  packed: (value) => packed(value),
  unpacked: (said) => unpacked(said),
  there: (value) => unpacked(packed(value)),
  dictionary: () => DICTIONARY,
  codeOf: (said) => codeOf(said),
  judged: (value) => readPart(value, { table: { version: 1, rules: {} }, validate: (one) => validator.validate(one) }),
  frames: ([said, numbers]) => {
    const { blocks, frame } = framesOf(said);
    return { blocks, frames: numbers.map(frame) };
  },
  received: (frames) => {
    const receiver = new Receiver();
    const found = frames.map((frame) => receiver.take(frame) ?? null);
    return { found, progress: receiver.progress };
  },
  rate: () => RATE,
  planOf: ([states, more]) => planOf(states, more),
  likeness: (plan) => likeness(plan),
  pointed: ([value, locale]) => pointed(value, locale),
  packedLayouts: ([plan, request]) => packedLayouts(plan, request),
  startOf: ([given, request]) => startOf(given, request),
  inOrderOf: ([given, plan, request]) => inOrderOf(given, plan, request),
  likenessOfCut: (given) => likenessOfCut(given),
  textIn: (said) => textIn(said),
  saidFor: ([said, address]) => saidFor(said, address),
};

function done([what, argument]) {
  try {
    return DOES[what](argument);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    return { refused: error.code };
  }
}

for await (const asks of createInterface({ input: process.stdin }))
  process.stdout.write(`${JSON.stringify(JSON.parse(asks).map(done))}\n`);
