// What the scripts of this folder share: arguments as paths, Pyodide started in Node, our Python files inside it.

import { readFile, readdir } from "node:fs/promises";
import { join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

export const paths = process.argv.slice(2).map((path) => resolve(path));

const INSIDE = fileURLToPath(new URL("../inside/", import.meta.url));

// Bytecode without column positions is a fifth smaller; tracebacks still name their lines.
const env = { PYTHONNODEBUGRANGES: "1", HOME: "/home/pyodide" };

/** Starts Pyodide from a folder that holds its files; `options` are Pyodide's own. */
export async function start(folder, options = {}) {
  const { loadPyodide } = await import(pathToFileURL(join(folder, "pyodide.mjs")));
  return loadPyodide({ indexURL: folder + "/", stdout: () => {}, ...options, env: { ...env, ...options.env } });
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
