// The unmodified npm package, started the plain way, up to its first answer.
const { loadPyodide } = await import(new URL('./pyodide/pyodide.mjs', import.meta.url));
const pyodide = await loadPyodide();
self.postMessage(pyodide.runPython('6 * 7'));
