// node freeze.mjs PYODIDE WHEELS CORE_WHEEL OUT
// Compiles the core's wheel, lets micropip resolve it, and writes to OUT the wheel and the lock that name what ships.

import { writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { addInside, paths, putFile, start } from "./pyodide.mjs";

const [pyodideFolder, wheels, coreWheel, out] = paths;

const pyodide = await start(pyodideFolder, { packageCacheDir: wheels });
await pyodide.loadPackage(["micropip", "packaging"], { messageCallback: () => {} });
await addInside(pyodide);

const plain = `/tmp/${basename(coreWheel)}`;
await putFile(pyodide, coreWheel, plain);
const compiled = pyodide.pyimport("compiled_wheel").compile_wheel(plain, "/tmp");
const lock = await pyodide.pyimport("frozen_lock").frozen_lock(compiled);

await writeFile(join(out, basename(compiled)), pyodide.FS.readFile(compiled));
await writeFile(join(out, "pyodide-lock.json"), lock);
