// node shrink.mjs PYODIDE BUILTINS PARTS OUT REPORT
// Writes to OUT the WebAssembly of Pyodide and the JavaScript around it without what the page never calls, and to REPORT
// what went. BUILTINS lists the built-in modules of Python that stay.
//
// Pyodide's main module is linked so that any package can be loaded beside it: nearly everything in it is exported, and
// so nothing can be left out. The page loads no such package.
//
// 1. Of the exports those stay that the JavaScript reaches. This goes by rules and does for any Pyodide.
// 2. The built-in modules that nothing imports are taken off Python's list, and their parts out of the table of functions;
//    large tables that only they read are filled with zeros. This takes knowledge of one Pyodide, which PARTS has; for
//    another it is left out.
// 3. The optimizer drops every function that nothing calls any more, and every stretch of zeros.
// 4. The JavaScript is left without what hung on all that.

import { createHash } from "node:crypto";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { dropBuiltins } from "./engine/builtins.mjs";
import { reachedExports, shrunkGlue } from "./engine/glue.mjs";
import { Memory } from "./engine/memory.mjs";
import { readModule } from "./engine/module.mjs";
import { checkParts, checkTables, whatGoes } from "./engine/parts.mjs";
import { rewritten } from "./engine/rewrite.mjs";
import { paths } from "./pyodide.mjs";

const WASM = "pyodide.asm.wasm";
const GLUE = "pyodide.asm.mjs";
const LOADER = "pyodide.mjs";

const [folder, builtinsFile, partsFile, out, reportFile] = paths;

const bytes = await readFile(join(folder, WASM));
const glue = await readFile(join(folder, GLUE), "utf8");
const loader = await readFile(join(folder, LOADER), "utf8");
const kept = new Set(JSON.parse(await readFile(builtinsFile, "utf8")));
const known = JSON.parse(await readFile(partsFile, "utf8"));

const module = readModule(bytes);
const exported = reachedExports(glue, loader, module.exports.keys());
const isKnown = createHash("sha256").update(bytes).digest("hex") === known.sha256;
const { source, slots, tables, report } = isKnown ? withoutParts() : { source: bytes, report: withAll() };

const written = rewritten(source, { exported, slots });
const after = readModule(written);
if (isKnown) checkTables(tables, known, after);
await writeFile(join(out, WASM), written);
await writeFile(join(out, GLUE), await shrunkGlue(glue, exported, after.imports));
await writeFile(join(out, LOADER), loader);
await writeFile(
  reportFile,
  JSON.stringify({ ...report, exports: counts("exports", "size"), functions: counts("functions", "length") }),
);

function withoutParts() {
  checkParts(known, module);
  const { going, slots, tables } = whatGoes(known, module, kept);
  const memory = new Memory(bytes, module);
  const builtins = dropBuiltins(memory, module, going);
  for (const [from, end] of tables) memory.image.fill(0, from, end);
  const report = { parts: going, ...builtins };
  return { source: memory.written(), slots, tables, report };
}

/** What is said where nothing but exports goes. */
function withAll() {
  return { parts: [], ...dropBuiltins(new Memory(bytes, module), module, []) };
}

function counts(what, number) {
  return [module[what][number], after[what][number]];
}
