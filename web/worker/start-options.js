// What Pyodide is started with: the cut standard library, the lock, and every wheel that the lock names.
//
// The wheels go onto Python's path as the archives they are. Unpacking them first, as Pyodide does with the packages
// that it is asked to load, takes a fifth of the whole start. They come last there: ahead of the standard library, as
// PYTHONPATH would put them, each of its modules would be looked for in them first.

const WHEELS = "/lib/";

/**
 * @param {{pyodide: string, python: string}} folders with a slash at the end
 * @param {(path: string, sha256?: string) => Promise<Uint8Array>} read gives a file's content,
 *   which must have that hash
 */
export async function startOptions({ pyodide, python }, read) {
  const lockFileContents = JSON.parse(new TextDecoder().decode(await read(`${python}pyodide-lock.json`)));
  const wheels = Object.values(lockFileContents.packages);
  const contents = Promise.all(wheels.map(({ file_name: name, sha256 }) => read(python + name, sha256)));
  contents.catch(() => {}); // fsInit, which awaits it, tells
  return {
    indexURL: pyodide,
    stdLibURL: `${python}python_stdlib.zip`,
    lockFileContents,
    packageBaseUrl: python,
    args: ["-S"], // without `site`: there are no packages to look for, and nobody at a prompt
    fsInit: async (files) =>
      (await contents).forEach((content, i) => files.writeFile(WHEELS + wheels[i].file_name, content)),
  };
}

/** Puts the wheels onto the path of a Pyodide that was started so. */
export function openWheels(interpreter, { lockFileContents }) {
  const { path } = interpreter.pyimport("sys");
  for (const { file_name: name } of Object.values(lockFileContents.packages)) path.append(WHEELS + name);
}
