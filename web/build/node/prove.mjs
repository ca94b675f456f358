// node prove.mjs PYODIDE OUT EXERCISE ANSWERS
// Starts from the files that ship, runs the exercise and writes its answers. A module missing from the cut fails here.

import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { exercise } from './exercise.mjs';
import { addInside, paths, start } from './pyodide.mjs';

const [pyodideFolder, out, exerciseFile, answersFile] = paths;

const pyodide = await start(pyodideFolder, {
  stdLibURL: join(out, 'python_stdlib.zip'),
  lockFileURL: join(out, 'pyodide-lock.json'), packageBaseUrl: out, packageCacheDir: out, packages: ['matside'],
});
await addInside(pyodide);
await writeFile(answersFile, exercise(pyodide, await readFile(exerciseFile, 'utf8')));
