// node squeeze.mjs FILE…
// Writes FILE.gz and FILE.br beside each file, as small as the two formats get.

import { readFile, writeFile } from "node:fs/promises";
import { promisify } from "node:util";
import { brotliCompress, constants, gzip } from "node:zlib";
import { paths } from "./pyodide.mjs";

const asGzip = promisify(gzip);
const asBrotli = promisify(brotliCompress);

async function squeeze(path) {
  const content = await readFile(path);
  const params = { [constants.BROTLI_PARAM_SIZE_HINT]: content.length, [constants.BROTLI_PARAM_LGWIN]: 24 };
  const [gz, br] = await Promise.all([asGzip(content, { level: 9 }), asBrotli(content, { params })]);
  await Promise.all([writeFile(`${path}.gz`, gz), writeFile(`${path}.br`, br)]);
}

await Promise.all(paths.map(squeeze));
