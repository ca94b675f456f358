// node prove.mjs PYODIDE OUT EXERCISE ANSWERS Starts from the files that ship, as the page's worker does, runs the
// exercise and writes its answers. A module that is missing from the cut fails here.

import { readFile, writeFile } from "node:fs/promises";
import { shareSmallModules } from "../../worker/shared-modules.js";
import { startOptions } from "../../worker/start-options.js";
import { exercise } from "./exercise.mjs";
import { addInside, paths, start } from "./pyodide.mjs";

const [pyodideFolder, out, exerciseFile, answersFile] = paths;

shareSmallModules();
const options = await startOptions(
  { pyodide: pyodideFolder + "/", python: out + "/" },
  async (path) => new Uint8Array(await readFile(path)),
);
const pyodide = await start(pyodideFolder, options);
await addInside(pyodide);
await writeFile(answersFile, exercise(pyodide, await readFile(exerciseFile, "utf8")));
