// node cut.mjs PYODIDE EXERCISE OUT
// Runs the exercise on the whole standard library and writes to OUT the part of it that was loaded, compiled.

import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { exercise } from "./exercise.mjs";
import { addInside, paths, start } from "./pyodide.mjs";

const [pyodideFolder, exerciseFile, out] = paths;

const pyodide = await start(pyodideFolder, {
  lockFileURL: join(out, "pyodide-lock.json"),
  packageBaseUrl: out,
  packageCacheDir: out,
  packages: ["matside"],
});
await addInside(pyodide);
exercise(pyodide, await readFile(exerciseFile, "utf8"));
const loaded = pyodide.pyimport("loaded_modules").loaded_modules();
const report = pyodide.pyimport("cut_stdlib").cut_stdlib(loaded, "/tmp/python_stdlib.zip");

await writeFile(join(out, "python_stdlib.zip"), pyodide.FS.readFile("/tmp/python_stdlib.zip"));
await writeFile(join(out, "..", "cut.json"), report);
