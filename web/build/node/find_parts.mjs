// node find_parts.mjs PYODIDE
// Prints parts.json for a Pyodide, for someone to compare with the one that is there and to try: see DEVELOPERS.md.
//
// Of each built-in module the first function is the one that the interpreter starts it by, and its file goes on up to the
// next such one; what a file asks places in the table for lies together there, too. For the libraries there are the names
// that they export. The stretches of data are taken as they are, and only tried.

import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { checkParts, initialisers } from "./engine/parts.mjs";
import { readModule } from "./engine/module.mjs";
import { paths } from "./pyodide.mjs";

// Files with functions for others before the one that starts the module.
const BEGINS_EARLIER = {
  _zstd: ["PyInit__zstd", -3],
};
// Of the second, several files lie before its beginning.
const TOGETHER = ["_hmac", "_sqlite3"];
const FIRST_MODULE = "_ctypes"; // what lies before is the interpreter's own
const AFTER_MODULES = "PyUnstable_AtExit"; // from there on lie those that the interpreter itself starts
// Each from the function of that name up to the one before the other; a number is so many functions further on.
const LIBRARIES = [
  {
    name: "libmpdec, libexpat, HACL",
    serves: ["_blake2", "_decimal", "_elementtree", "_hmac", "_md5", "_sha1", "_sha2", "_sha3", "pyexpat"],
    from: ["PyInit__symtable", 3],
    until: "_Py_Get_Getpath_CodeObject",
  },
  { name: "libffi", serves: ["_ctypes"], names: "^ffi_", from: ["ffi_prep_cif", 0], until: "hiwire_intern" },
  { name: "liblzma", serves: ["_lzma"], names: "^lzma_", from: ["lzma_version_number", 0], until: "sqlite3_status64" },
  {
    name: "libsqlite3",
    serves: ["_sqlite3"],
    names: "^sqlite3_",
    from: ["sqlite3_status64", 0],
    until: "FSE_versionNumber",
  },
  {
    name: "libzstd",
    serves: ["_zstd"],
    names: "^(ZSTD|ZSTDMT|ZDICT|FSE|HUF|HIST|ERR|POOL|COVER|FASTCOVER)_|^div",
    from: ["FSE_versionNumber", 0],
    until: "emscripten_GetProcAddress",
  },
  { name: "libbz2", serves: ["_bz2"], names: "^BZ2_", from: ["BZ2_blockSort", 0], until: "adler32_z" },
  {
    name: "libz",
    serves: ["binascii", "zlib"],
    names: "^(adler32|crc32|deflate|inflate|gz|compress|uncompress|zlib|_tr_)|^(get_crc_table|zError)$",
    from: ["adler32_z", 0],
    until: "waitid",
  },
  { name: "iconv", serves: [], names: "^iconv", from: ["iconv_open", 0], until: "if_indextoname" },
];
// Where their data are is not found but tried: the files whose data they are, the first address and the one after the last.
const TABLES = [
  {
    of: [
      "_elementtree",
      "_codecs_cn",
      "_codecs_hk",
      "_codecs_iso2022",
      "_codecs_jp",
      "_codecs_kr",
      "_codecs_tw",
    ].concat(["_multibytecodec", "unicodedata"]),
    data: [800416, 2077440],
  },
  { of: ["iconv"], data: [2828064, 2930048] },
];
const GAP = 20; // places in the table between two of one file

const [folder] = paths;
const bytes = await readFile(join(folder, "pyodide.asm.wasm"));
const module = readModule(bytes);
const version = JSON.parse(await readFile(join(folder, "package.json"), "utf8")).version;

const begun = new Set(initialisers(module).values()); // their places are asked for by the list of built-in modules
const slotsOf = new Map();
module.slots.forEach((index, slot) => slotsOf.set(index, [...(slotsOf.get(index) ?? []), slot]));

const parts = [...modules(), ...LIBRARIES.map(library)].map(withSlots);
const sha256 = createHash("sha256").update(bytes).digest("hex");
const known = { pyodide: version, sha256, parts, tables: TABLES, coincidences: TABLES.flatMap(coincidences) };
checkParts(known, module);
console.log(inLines(known));

/** What others hold that would lie inside: each to be looked at, whether it is an address after all. */
function coincidences({ of, data: [from, end] }) {
  const theirs = parts.filter(({ name }) => of.includes(name)).map(({ functions }) => functions);
  const others = module.functions.filter(
    (_, index) => !theirs.some(([first, last]) => first <= index && index <= last),
  );
  const held = new Set(others.flatMap(({ numbers }) => [...numbers]));
  return [...held].filter((number) => from <= number && number < end).sort((a, b) => a - b);
}

function modules() {
  const begins = [...initialisers(module).keys()]
    .map((name) => ({ name, from: place(BEGINS_EARLIER[name] ?? [`PyInit_${name}`, 0]) }))
    .sort((a, b) => a.from - b.from);
  const end = place([AFTER_MODULES, 0]);
  const own = begins.slice(begins.findIndex(({ name }) => name === FIRST_MODULE)).filter(({ from }) => from < end);
  return own.map(({ name, from }, i) => ({ ...serving(name), functions: [from, (own[i + 1]?.from ?? end) - 1] }));
}

function serving(name) {
  return TOGETHER.includes(name) ? { name, serves: TOGETHER } : { name };
}

function library({ from, until, ...told }) {
  return { ...told, functions: [place(from), place([until, 0]) - 1] };
}

function place([name, further]) {
  return module.exports.get(name) + further;
}

/** With the largest run of places whose functions lie in the part and have no other place. */
function withSlots(part) {
  const [from, to] = part.functions;
  const own = [];
  for (let index = from; index <= to; index += 1) {
    const slots = slotsOf.get(index) ?? [];
    if (slots.length === 1 && !begun.has(index)) own.push(slots[0]);
  }
  const runs = own.sort((a, b) => a - b).reduce(joined, []);
  const longest = runs.sort((a, b) => b.length - a.length)[0];
  return longest ? { ...part, slots: [longest[0], longest.at(-1)] } : part;
}

function joined(runs, slot) {
  const run = runs.at(-1);
  if (run && slot - run.at(-1) <= GAP) run.push(slot);
  else runs.push([slot]);
  return runs;
}

/** As JSON, a line for each member, and for each entry of those that are lists of objects. */
function inLines(object) {
  const members = Object.entries(object).map(([name, value]) => `  ${JSON.stringify(name)}: ${listed(value)}`);
  return `{\n${members.join(",\n")}\n}`;
}

function listed(value) {
  if (!Array.isArray(value) || typeof value[0] !== "object") return JSON.stringify(value);
  return `[\n${value.map((entry) => `    ${JSON.stringify(entry)}`).join(",\n")}\n  ]`;
}
