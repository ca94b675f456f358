// node cut.mjs PYODIDE STDLIB EXERCISE OUT REPORT
// Starts from the whole standard library as the page's worker does from its own, runs the exercise, and writes to OUT the
// part of the library that was loaded, compiled, and to REPORT which modules that are.

import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { exercise } from "./exercise.mjs";
import { addInside, asInThePage, paths } from "./pyodide.mjs";

const [pyodideFolder, stdlib, exerciseFile, out, reportFile] = paths;

const pyodide = await asInThePage(pyodideFolder, out, { stdLibURL: stdlib });
await addInside(pyodide);
exercise(pyodide, await readFile(exerciseFile, "utf8"));
const loaded = pyodide.pyimport("loaded_modules").loaded_modules();
const report = pyodide.pyimport("cut_stdlib").cut_stdlib(loaded, "/tmp/python_stdlib.zip");

await writeFile(join(out, "python_stdlib.zip"), pyodide.FS.readFile("/tmp/python_stdlib.zip"));
await writeFile(reportFile, report);
