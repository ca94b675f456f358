// node reduced.mjs SOURCE TARGET NAME…
// Writes a module from npm to TARGET with the named exports alone, and without what only the others used. Its names
// within are shortened; what is licensed is said in licences.txt.

import { readFile, writeFile } from "node:fs/promises";
import { parse } from "acorn";
import { minify } from "terser";

const [source, target, ...wanted] = process.argv.slice(2);
const text = await readFile(source, "utf8");
const { code } = await minify(withExports(text, wanted), {
  module: true,
  ecma: 2020,
  compress: { passes: 3, pure_getters: true, unsafe_arrows: true },
});
await writeFile(target, `${code}\n`);

/** The module's text with each `export` taken off, and one at its end for the wanted names. */
function withExports(module, names) {
  const locals = new Map();
  const cuts = parse(module, { ecmaVersion: 2022, sourceType: "module" }).body.flatMap((node) => cutOf(node, locals));
  const lacking = names.filter((name) => !locals.has(name));
  if (lacking.length) throw new Error(`${source} exports no ${lacking.join(", ")}`);
  const bare = cuts.reverse().reduce((rest, [from, to]) => rest.slice(0, from) + rest.slice(to), module);
  return `${bare}\nexport { ${names.map((name) => `${locals.get(name)} as ${name}`).join(", ")} };\n`;
}

/** The stretch of a statement that makes it an export, and what it exports under which local name. */
function cutOf(node, locals) {
  if (node.type === "ExportDefaultDeclaration") {
    if (node.declaration.type !== "Identifier") throw new Error(`${source}: a default export that has no name`);
    return [[node.start, node.end]];
  }
  if (node.type !== "ExportNamedDeclaration") return [];
  if (node.source) throw new Error(`${source}: an export of another module`);
  for (const { exported, local } of node.specifiers) locals.set(exported.name, local.name);
  if (!node.declaration) return [[node.start, node.end]];
  for (const { id } of node.declaration.declarations ?? [node.declaration]) locals.set(id.name, id.name);
  return [[node.start, node.declaration.start]];
}
