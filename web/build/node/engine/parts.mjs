// The parts of one Pyodide: which of its functions, which places in the table of functions and which data belong to which of
// CPython's built-in modules, and to which library that only such modules use.
//
// A linker puts object files one after the other, their functions, the places in the table that they ask for, and their
// read-only data: so each is one stretch. The stretches of the Pyodide that is pinned stand in ../../parts.json;
// find_parts.mjs finds those of another.

/**
 * @typedef {{name: string, functions: [number, number], slots?: [number, number], serves?: string[], names?: string}} Part
 *   from first to last. A module of CPython's has its own name; where it is needed by others, too, and for a library, it
 *   is said whom it `serves`, and how what a library exports is named.
 * @typedef {{sha256: string, parts: Part[], tables: {of: string[], data: [number, number]}[], coincidences: number[]}} Known
 *   `data` is from the first address up to the one after the last; `coincidences` are numbers that look like one of those
 */

/**
 * Throws where a stretch cannot be what it says: out of order, empty, without its module, with another's, or named by others.
 * @param {Known} known
 * @param {object} module as readModule gives it
 */
export function checkParts({ parts, tables }, module) {
  const inits = initialisers(module);
  let after = -1;
  for (const part of parts) {
    const [first, last] = part.functions;
    if (!(after < first && first <= last && last < module.functions.length))
      throw wrong(part, "is empty or out of order");
    after = last;
    const inside = [...inits].filter(([, index]) => first <= index && index <= last).map(([name]) => name);
    const wanted = inits.has(part.name) ? part.name : "";
    if (inside.join(", ") !== wanted) throw wrong(part, `has the beginnings of ${inside.join(", ") || "no module"}`);
    if (part.slots && !areOwn(part, module)) throw wrong(part, "has places of others in the table");
  }
  for (const table of tables) checkTable(table, parts, module);
}

function areOwn(part, { slots }) {
  const [first, last] = part.slots;
  return first <= last && part.slots.every((slot) => isInside(part, slots[slot]));
}

function checkTable({ of, data: [first, end] }, parts, module) {
  const owners = parts.filter(({ name }) => of.includes(name));
  for (const address of [first, end]) {
    const by = [...module.functions.keys()].filter((index) => module.functions[index].numbers.has(address));
    if (!by.length || !by.every((index) => owners.some((part) => isInside(part, index)))) {
      throw new Error(`the data of ${of.join(", ")}: ${address} is not theirs`);
    }
  }
  if (!(first < end)) throw new Error(`the data of ${of.join(", ")} are none`);
}

const wrong = (part, fault) => new Error(`the part ${part.name} ${fault}`);

const isInside = ({ functions: [first, last] }, index) => first <= index && index <= last;

/** The function that each built-in module begins with, by the module's name. */
export function initialisers({ exports }) {
  const begins = [...exports].filter(([name]) => name.startsWith("PyInit_"));
  return new Map(begins.map(([name, index]) => [name.slice("PyInit_".length), index]));
}

/**
 * What can go when only the modules of `kept` are ever imported: parts, places in the table, stretches of data. Of a part
 * that goes a function may stay, where something else calls it: equal functions are merged when Pyodide is built, and it
 * stands for several.
 * @param {Known} known
 * @param {object} module as readModule gives it
 * @param {Set<string>} kept
 * @returns {{going: string[], slots: Set<number>, tables: [number, number][]}}
 */
export function whatGoes({ parts, tables }, module, kept) {
  const going = parts.filter((part) => !(part.serves ?? [part.name]).some((name) => kept.has(name)));
  const names = going.map(({ name }) => name);
  const data = tables.filter(({ of }) => of.every((name) => names.includes(name))).map((table) => table.data);
  return { going: names, slots: goingSlots(going, module), tables: data };
}

/** The places in the table that only the parts ask for and that a function of one of them is in; and those of their
 * beginnings, which nothing asks for but the list of built-in modules. */
function goingSlots(going, module) {
  const shared = sharedFunctions(going, module);
  const isTheirs = (slot) =>
    !shared.has(module.slots[slot]) && going.some((part) => isInside(part, module.slots[slot]));
  const asked = going.filter(({ slots }) => slots).flatMap(({ slots: [first, last] }) => range(first, last));
  const begins = going.map(({ name }) => module.slots.indexOf(module.exports.get(`PyInit_${name}`)));
  return new Set([...asked, ...begins].filter((slot) => slot > 0 && isTheirs(slot)));
}

/** Functions of the parts that are exported under a name of another file, for which they stand, too. */
function sharedFunctions(going, { exports }) {
  const isOwn = (part, name) => name === `PyInit_${part.name}` || (part.names && new RegExp(part.names).test(name));
  const shared = new Set();
  for (const [name, index] of exports) {
    const part = index !== null && going.find((each) => isInside(each, index));
    if (part && !isOwn(part, name)) shared.add(index);
  }
  return shared;
}

const range = (first, last) => Array.from({ length: last - first + 1 }, (_, i) => first + i);

/** Throws where something that is left holds a number in a stretch of data that went, but for those that are no addresses. */
export function checkTables(tables, { coincidences }, { functions }) {
  const held = new Set(functions.flatMap(({ numbers }) => [...numbers]));
  for (const [from, end] of tables) {
    const odd = [...held].filter((number) => from <= number && number < end && !coincidences.includes(number));
    if (odd.length) throw new Error(`data at ${odd.join(", ")} went and is still read`);
  }
}
