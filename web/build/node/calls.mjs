// node calls.mjs PYODIDE PYTHON MODULES TOLD SEED FIRST MANY
// Starts Pyodide with our Python as the page does, makes so many calls at random into it (../inside/calls.py), and writes
// what came of each, a line a call. Where one ends the interpreter that is its line, and a new one goes on behind it.

import { readFile, writeFile } from "node:fs/promises";
import { addInside, asInThePage, paths } from "./pyodide.mjs";

const [folder, python, modulesFile, told] = paths;
const [seed, first, many] = process.argv.slice(6).map(Number);

const modules = JSON.parse(await readFile(modulesFile, "utf8"));
const lines = [];
while (lines.length < many) await goOn();
await writeFile(told, lines.join("\n") + "\n");
process.exit(0); // what was called may have left something waiting

async function goOn() {
  const pyodide = await asInThePage(folder, python, { env: { PYTHONHASHSEED: "0" }, stderr: () => {} });
  await addInside(pyodide);
  let target = "";
  const tell = (line) => {
    if (target) lines.push(line.replaceAll("\n", " "));
    target = target ? "" : line;
  };
  try {
    pyodide.pyimport("calls").results(pyodide.toPy(modules), seed, first + lines.length, first + many, tell);
  } catch (error) {
    if (error.name === "PythonError") throw error; // what is called may raise what it likes: this is our own
    lines.push(`${target} ended it with ${error.name}: ${String(error.message).split("\n")[0]}`);
  }
}
