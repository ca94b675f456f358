// Pyodide's glue wraps some 260 functions each in a WebAssembly module of its own, of which only a few differ: a module
// tells nothing but the function's types. Compiling each one only once takes a tenth off the whole start.

const SMALL = 256; // bytes: a wrapper is far smaller, any other module far larger

/** From now on small modules of the same bytes are the same module. */
export function shareSmallModules() {
  const made = new Map();
  WebAssembly.Module = new Proxy(WebAssembly.Module, {
    construct(Module, [bytes, ...options]) {
      if (!(bytes instanceof Uint8Array && bytes.length <= SMALL)) return new Module(bytes, ...options);
      const key = String(bytes);
      if (!made.has(key)) made.set(key, new Module(bytes, ...options));
      return made.get(key);
    },
  });
}
