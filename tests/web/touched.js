// Wraps every function of the browser, and every property that is read through one, and notes which of them the page's
// own code touches: `window.touched` gives {name: "call", "later" or "read"}. "later" is what answers with a promise.
(() => {
  const LANGUAGE = new Set([
    "Object",
    "Function",
    "Array",
    "Number",
    "Boolean",
    "String",
    "Symbol",
    "Promise",
    "RegExp",
    "Error",
    "AggregateError",
    "EvalError",
    "RangeError",
    "ReferenceError",
    "SyntaxError",
    "TypeError",
    "URIError",
    "ArrayBuffer",
    "SharedArrayBuffer",
    "Atomics",
    "DataView",
    "Map",
    "Set",
    "WeakMap",
    "WeakSet",
    "WeakRef",
    "FinalizationRegistry",
    "Proxy",
    "Reflect",
    "BigInt",
    "JSON",
    "Math",
    "Date",
    "Iterator",
    "AsyncIterator",
    "globalThis",
    "eval",
    "isFinite",
    "isNaN",
    "parseFloat",
    "parseInt",
    "decodeURI",
    "decodeURIComponent",
    "encodeURI",
    "encodeURIComponent",
    "escape",
    "unescape",
    "WebAssembly",
    "Temporal",
    "SuppressedError",
    "DisposableStack",
    "AsyncDisposableStack",
    "Float16Array",
  ]);
  const touched = {};
  const OURS = /\/app-[0-9a-f]+\//;
  Error.stackTraceLimit = 4;
  const fromUs = () => OURS.test(new Error().stack.split("\n")[3] ?? ""); // 0 the word, 1 this, 2 the wrapper, 3 who called it
  const note = (name, how) => {
    if (touched[name] !== "later") touched[name] = how;
  };

  const wrapped = (real, name) => {
    const wrapper = function (...values) {
      const ours = fromUs();
      const result = new.target
        ? Reflect.construct(real, values, new.target === wrapper ? real : new.target)
        : real.apply(this, values);
      if (ours) note(name, result && typeof result.then === "function" ? "later" : "call");
      return result;
    };
    return wrapper;
  };

  const wrapMembers = (owner, ownerName) => {
    for (const key of Object.getOwnPropertyNames(owner)) {
      if (key === "constructor") continue;
      const how = Object.getOwnPropertyDescriptor(owner, key);
      if (!how.configurable) continue;
      const name = `${ownerName}.${key}`;
      if (typeof how.value === "function") how.value = wrapped(how.value, name);
      else if (how.get) {
        const { get } = how;
        how.get = function () {
          if (fromUs()) note(name, touched[name] ?? "read");
          return get.call(this);
        };
      } else continue;
      Object.defineProperty(owner, key, how);
    }
  };

  const proxied = (real, name) =>
    new Proxy(real, {
      construct(target, values, newTarget) {
        const made = Reflect.construct(target, values, newTarget);
        if (fromUs()) note(name, "call");
        return made;
      },
    });

  for (const key of Object.getOwnPropertyNames(window)) {
    if (LANGUAGE.has(key) || /Array$/.test(key)) continue;
    const how = Object.getOwnPropertyDescriptor(window, key);
    if (key === "Intl" || key === "CSS") {
      wrapMembers(how.value, key);
      continue;
    }
    if (typeof how.value !== "function") {
      if (
        how.get &&
        how.configurable &&
        !["window", "self", "document", "location", "top", "parent", "frames"].includes(key)
      ) {
        const { get } = how;
        Object.defineProperty(window, key, {
          ...how,
          get() {
            if (fromUs()) note(`window.${key}`, "read");
            return get.call(this);
          },
        });
      }
      continue;
    }
    const proto = how.value.prototype;
    if (proto && /^[A-Z]/.test(key)) {
      wrapMembers(proto, `${key}.prototype`);
      wrapMembers(how.value, key);
      if (how.configurable && !/Element$|^Node$|^EventTarget$/.test(key))
        Object.defineProperty(window, key, {
          ...how,
          value: proxied(how.value, `window.${key}`),
        });
    } else if (how.configurable)
      Object.defineProperty(window, key, {
        ...how,
        value: wrapped(how.value, `window.${key}`),
      });
  }
  window.touched = touched;
})();
