// node prove.mjs PYODIDE OUT EXERCISE ANSWERS
// Starts from the files that ship, as the page's worker does, runs the exercise and writes its answers. A module that is
// missing from the cut fails here, and so does a part of the interpreter.

import { readFile, writeFile } from "node:fs/promises";
import { exercise } from "./exercise.mjs";
import { addInside, asInThePage, paths } from "./pyodide.mjs";

const [pyodideFolder, out, exerciseFile, answersFile] = paths;

const pyodide = await asInThePage(pyodideFolder, out);
await addInside(pyodide);
await writeFile(answersFile, exercise(pyodide, await readFile(exerciseFile, "utf8")));
