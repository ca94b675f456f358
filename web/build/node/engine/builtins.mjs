// The list of modules that are built into Python: for each the address of its name, and the place in the table of the
// function that it begins with; zeros end it (`_PyImport_Inittab` in CPython's Modules/config.c.in).

import { initialisers } from "./parts.mjs";

const ENTRY = 8;

/**
 * Takes modules off the list, so that to import one is a plain ImportError.
 * @param {import("./memory.mjs").Memory} memory is changed
 * @param {object} module as readModule gives it
 * @param {string[]} going names, of modules or of anything else
 * @returns {{kept: string[], gone: string[]}} the modules that stay on the list, and those that went
 */
export function dropBuiltins(memory, module, going) {
  const list = entries(memory, module);
  const [gone, kept] = [true, false].map((goes) => list.filter(({ name }) => going.includes(name) === goes));
  const [{ at: start }] = list;
  memory.image.fill(0, start, start + list.length * ENTRY);
  kept.forEach(({ words }, place) => memory.image.set(words, start + place * ENTRY));
  return { kept: kept.map(({ name }) => name), gone: gone.map(({ name }) => name) };
}

function entries(memory, module) {
  const list = [];
  for (let at = first(memory, module); word(memory, at); at += ENTRY) {
    list.push({ at, name: memory.text(word(memory, at)), words: Buffer.from(memory.image.subarray(at, at + ENTRY)) });
  }
  return list;
}

/** Where the list begins: the first entry with a module's name beside the place of the function that it begins with. */
function first(memory, { slots, ...module }) {
  const begins = new Map([...initialisers(module)].map(([name, index]) => [slots.indexOf(index), name]));
  begins.delete(-1);
  for (let at = 0; at + ENTRY <= memory.image.length; at += 4) {
    const name = begins.get(word(memory, at + 4));
    if (name && memory.text(word(memory, at)) === name) return at;
  }
  throw new Error("Python's list of built-in modules was not found");
}

const word = ({ image }, at) => image.readUInt32LE(at);
