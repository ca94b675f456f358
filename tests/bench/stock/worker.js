// The unmodified npm package, started the plain way, up to its first answer.
const { loadPyodide } = await import(new URL('./pyodide/pyodide.mjs', import.meta.url));
const pyodide = await loadPyodide();
self.postMessage(pyodide.runPython('6 * 7'));
self.addEventListener('message', () => {
  pyodide.runPython('sum(len(str(i)) + i % 7 for i in range(1_000_000))');
  self.postMessage('used');
});
