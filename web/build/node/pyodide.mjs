// What the scripts of this folder share: arguments as paths, Pyodide started in Node, our Python files inside it.

import { readFile, readdir } from "node:fs/promises";
import { join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { shareSmallModules } from "../../worker/shared-modules.js";
import { openWheels, startOptions } from "../../worker/start-options.js";

export const paths = process.argv.slice(2).map((path) => resolve(path));

const INSIDE = fileURLToPath(new URL("../inside/", import.meta.url));

// Bytecode without column positions is a fifth smaller; tracebacks still name their lines.
const env = { PYTHONNODEBUGRANGES: "1", HOME: "/home/pyodide" };

/** Starts Pyodide from a folder that holds its files; `options` are Pyodide's own. */
export async function start(folder, options = {}) {
  const { loadPyodide } = await import(pathToFileURL(join(folder, "pyodide.mjs")));
  return loadPyodide({ indexURL: folder + "/", stdout: () => {}, ...options, env: { ...env, ...options.env } });
}

/**
 * Starts Pyodide as the page's worker does, from a folder with its files and one with our Python.
 * @param {string} folder @param {string} python @param {object} other options of Pyodide's, in place of the worker's
 */
export async function asInThePage(folder, python, other = {}) {
  shareSmallModules();
  const folders = { pyodide: folder + "/", python: python + "/" };
  const options = await startOptions(folders, async (path) => new Uint8Array(await readFile(path)));
  const pyodide = await start(folder, { ...options, ...other });
  openWheels(pyodide, options);
  return pyodide;
}

/** The Python files of web/build/inside become importable. */
export async function addInside(pyodide) {
  for (const name of (await readdir(INSIDE)).filter((file) => file.endsWith(".py"))) {
    pyodide.FS.writeFile(`/home/pyodide/${name}`, await readFile(join(INSIDE, name), "utf8"));
  }
}

/** Copies a file of this machine into Pyodide's file system. */
export async function putFile(pyodide, source, target) {
  pyodide.FS.writeFile(target, new Uint8Array(await readFile(source)));
}
