// A WebAssembly module as the steps of this folder need to see it: who exports what, which function calls which and which
// numbers it holds, what the table of functions and the memory begin with.

import wasmparser from "wasmparser";

const { BinaryReader, BinaryReaderState: State, ExternalKind, OperatorCode: Operator } = wasmparser;

/**
 * Reads a module. Functions are known by their place among those that the module defines; an imported one is negative.
 * @param {Uint8Array} bytes
 * @returns {{
 *   imports: {module: string, name: string, isFunction: boolean}[],
 *   exports: Map<string, number|null>  the function of each name, or null for anything else,
 *   functions: {calls: Set<number>, numbers: Set<number>}[]  `numbers`: constants, and offsets of loads and stores,
 *   slots: (number|undefined)[]  the function in each place of the table,
 *   data: {at: number, from: number, size: number}[]  pieces of the memory: address, place in `bytes`, length
 * }}
 */
export function readModule(bytes) {
  const found = { imports: [], exports: new Map(), functions: [], slots: [], data: [] };
  const place = { offset: 0, into: null, imported: 0 };
  const reader = new BinaryReader();
  reader.setData(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length), 0, bytes.length);
  while (reader.read()) NOTED[reader.state]?.(found, reader, place);
  if (reader.error) throw reader.error;
  return found;
}

const text = (name) => new TextDecoder().decode(name);

const NOTED = {
  [State.IMPORT_SECTION_ENTRY](found, { result }, place) {
    const isFunction = result.kind === ExternalKind.Function;
    if (isFunction) place.imported += 1;
    found.imports.push({ module: text(result.module), name: text(result.field), isFunction });
  },
  [State.EXPORT_SECTION_ENTRY](found, { result }, place) {
    const index = result.kind === ExternalKind.Function ? result.index - place.imported : null;
    found.exports.set(text(result.field), index);
  },
  [State.BEGIN_ELEMENT_SECTION_ENTRY](found, reader, place) {
    place.into = "slots";
    place.offset = 0;
  },
  [State.BEGIN_DATA_SECTION_ENTRY](found, reader, place) {
    place.into = "data";
    place.offset = 0;
  },
  [State.OFFSET_EXPRESSION_OPERATOR](found, { result }, place) {
    if (result.code === Operator.i32_const) place.offset = result.literal >>> 0;
  },
  [State.INIT_EXPRESSION_OPERATOR](found, { result }, place) {
    if (place.into === "slots" && result.code === Operator.ref_func) {
      found.slots[place.offset++] = result.funcIndex - place.imported;
    }
  },
  [State.DATA_SECTION_ENTRY_BODY](found, reader, place) {
    const size = reader.result.data.length;
    found.data.push({ at: place.offset, from: reader.position - size, size });
  },
  [State.BEGIN_FUNCTION_BODY](found) {
    found.functions.push({ calls: new Set(), numbers: new Set() });
  },
  [State.CODE_OPERATOR](found, { result }, place) {
    const last = found.functions.at(-1);
    if (result.funcIndex !== undefined) last.calls.add(result.funcIndex - place.imported);
    if (result.code === Operator.i32_const) last.numbers.add(result.literal >>> 0);
    if (result.code === Operator.i64_const) wide(result.literal).forEach((half) => last.numbers.add(half));
    if (result.memoryAddress) last.numbers.add(Number(result.memoryAddress.offset));
  },
};

/** The two halves of a 64-bit constant: two addresses are written at once that way. */
function wide(literal) {
  const { buffer, byteOffset } = literal.data;
  const view = new DataView(buffer, byteOffset, 8);
  return [view.getUint32(0, true), view.getUint32(4, true)];
}
