// node patterns.mjs FOLDER OUT
// Writes what the pattern page shows answers to, {name: request}. FOLDER is the application folder as it ships.

import { readFile, writeFile } from "node:fs/promises";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const [folder, out] = process.argv.slice(2);
const from = (path) => import(pathToFileURL(resolve(folder, path)));
const json = async (path) => JSON.parse(await readFile(resolve(folder, path), "utf-8"));
const [{ requests }, { Words }] = await Promise.all(["patterns/examples.js", "lib/words/words.js"].map(from));
const [catalogue, facts] = await Promise.all([json("words/en.json"), json("facts.json")]);
await writeFile(out, JSON.stringify(requests(facts, new Words(catalogue, { units: "in", locale: "en" }))));
