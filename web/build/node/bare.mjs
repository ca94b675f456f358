// node bare.mjs FOLDER FILE…
// Writes each script into FOLDER, under the hash of its content, without comments and indentation; names and statements
// stay as they are written.

import { createHash } from "node:crypto";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { minify } from "terser";
import { paths } from "./pyodide.mjs";

const [folder, ...files] = paths;

// A statement stays on a line of its own: what an error names can still be found.
const AS_IT_IS = {
  compress: false,
  mangle: false,
  ecma: 2020,
  format: { beautify: true, indent_level: 0, quote_style: 3 },
};
const IS_MODULE = /^(?:import|export|await)\b/m; // the others are classic scripts, and "use strict" is theirs to say

async function bare(path) {
  const content = await readFile(path);
  const module = IS_MODULE.test(String(content));
  const { code } = await minify(String(content), { module, ...AS_IT_IS });
  await writeFile(join(folder, createHash("sha256").update(content).digest("hex")), `${code}\n`);
}

await Promise.all(files.map(bare));
