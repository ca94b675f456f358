// Writes a module anew without what nothing leads to: the exports, places of the table and data that go are taken away,
// and the optimizer of WebAssembly takes what hung on them.

import binaryen from "binaryen";

/**
 * @param {Uint8Array} bytes of the module
 * @param {{exported: Set<string>, slots?: Set<number>}} what the exports that stay, the places of the table that are emptied
 * @returns {Uint8Array}
 */
export function rewritten(bytes, { exported, slots = new Set() }) {
  const module = binaryen.readBinary(bytes);
  keepExports(module, exported);
  if (slots.size) emptySlots(module, slots);
  // Once more at the end: what only a stretch of zeros held goes with it.
  module.runPasses(["remove-unused-module-elements", "memory-packing", "remove-unused-module-elements"]);
  const written = module.emitBinary();
  module.dispose();
  return written;
}

function keepExports(module, exported) {
  const names = Array.from(
    { length: module.getNumExports() },
    (_, i) => binaryen.getExportInfo(module.getExportByIndex(i)).name,
  );
  for (const name of names) if (!exported.has(name)) module.removeExport(name);
}

/** A call of an emptied place traps at once, so that a place emptied wrongly is no wrong answer. */
function emptySlots(module, slots) {
  const segment = binaryen.getElementSegmentInfo(module.getElementSegmentByIndex(0));
  const trap = "gone";
  module.addFunction(trap, binaryen.none, binaryen.none, [], module.unreachable());
  const names = segment.data.map((name, place) => (slots.has(place + FIRST_SLOT) ? trap : name));
  module.removeElementSegment(segment.name);
  module.addActiveElementSegment(segment.table, segment.name, names, module.i32.const(FIRST_SLOT));
}

const FIRST_SLOT = 1; // a null pointer is no place
