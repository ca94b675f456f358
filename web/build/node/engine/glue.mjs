// The JavaScript around Pyodide's WebAssembly: what it reaches of its exports, and the same without what it does not.

import { parse } from "acorn";
import { full } from "acorn-walk";
import { minify } from "terser";

const EXPORTS = "wasmExports";
const IMPORTS = "wasmImports";
const ASSIGNING = "assignWasmExports"; // the function that gives each export its name in JavaScript
const WORD = /[\w$]+/g;

// Reached by name, with no mention in the script: looked up as "main" with other letters; and what every module has.
const ALWAYS = ["__main_argc_argv", "__wasm_call_ctors", "__stack_pointer", "__c_longjmp", "__cpp_exception"];

/**
 * The exports that the script, or the loader beside it, can reach: by the name that they are given, or any mention.
 * What is read of texts and of properties counts, too, so that nothing is missed that is put together at run time.
 * @param {string} glue @param {string} loader @param {Iterable<string>} names of all exports
 * @returns {Set<string>}
 */
export function reachedExports(glue, loader, names) {
  const { statements, declared } = assignments(glue);
  const rest = without(glue, [...statements, ...declared]);
  const words = new Set([...(rest.match(WORD) ?? []), ...(loader.match(WORD) ?? [])]);
  const called = new Map();
  for (const { name, aliases } of statements) called.set(name, [...(called.get(name) ?? []), ...aliases]);
  const isReached = (name) =>
    ALWAYS.includes(name) || [`_${name}`, ...(called.get(name) ?? [])].some((one) => words.has(one));
  const byName = new Set([...rest.matchAll(/wasm(?:Ex|Im)ports(?:\.|\[")([\w$]+)/g)].map(([, name]) => name));
  return new Set([...names].filter((name) => byName.has(name) || isReached(name)));
}

/**
 * The script without the exports that went, the imports that the module asks for no more, and all that hung on them.
 * @param {string} glue @param {Set<string>} exported those that stay
 * @param {{module: string, name: string}[]} imports those of the module as it ships
 */
export async function shrunkGlue(glue, exported, imports) {
  const gone = assignments(glue).statements.filter(({ name }) => !exported.has(name));
  const script = without(glue, gone);
  const parts = [...unaskedImports(script, imports), ...types(script, imports)];
  const { code } = await minify(indirectEval(without(script, parts)), {
    module: true,
    compress: { passes: 2, pure_getters: true, toplevel: true, keep_infinity: true },
    mangle: true,
    format: { comments: /licen[sc]e|copyright/i },
  });
  return code;
}

/** The statements that name an export, with the names they give it, and the declarations that only make room for those. */
function assignments(script) {
  const tree = parsed(script);
  const body = find(tree, (node) => node.type === "FunctionDeclaration" && node.id.name === ASSIGNING).body.body;
  const statements = body.map((node) => ({ ...chain(node.expression), start: node.start, end: node.end }));
  const given = new Set(statements.flatMap(({ aliases }) => aliases));
  const declared = [];
  full(tree, (node) => {
    if (node.type === "VariableDeclarator" && !node.init && given.has(node.id.name)) declared.push(node);
  });
  return { statements: statements.filter(({ name }) => name), declared };
}

/** `a = Module["_a"] = wasmExports["a"]` as the export's name and its aliases. */
function chain(node, aliases = []) {
  if (node.type === "AssignmentExpression") return chain(node.right, [...aliases, nameOf(node.left)]);
  const member = find(node, ({ type, object }) => type === "MemberExpression" && object.name === EXPORTS);
  return { name: member && nameOf(member), aliases };
}

const nameOf = (node) => node.name ?? node.property.value ?? node.property.name;

/** The entries of the object of imports that neither the module nor the script asks for. */
function unaskedImports(script, imports) {
  const list = find(parsed(script), ({ type, id }) => type === "VariableDeclarator" && id.name === IMPORTS).init
    .properties;
  const asked = new Set(imports.map(({ name }) => name));
  for (const [, name] of script.matchAll(/wasmImports(?:\.|\[")([\w$]+)/g)) asked.add(name);
  const unasked = list.filter(({ key }) => !asked.has(key.name ?? key.value));
  return unasked.map(({ start, end }) => ({ start, end: script[end] === "," ? end + 1 : end }));
}

/**
 * `f.sig = "vi"`: the types of functions of the script matter only where a module asks for the address of one.
 */
function types(script, imports) {
  if (imports.some(({ module }) => module === "GOT.func")) return [];
  const found = [];
  full(parsed(script), (node) => {
    const { type, expression } = node;
    if (type !== "ExpressionStatement" || expression.type !== "AssignmentExpression") return;
    const { left, right } = expression;
    if (right.type === "Literal" && ["sig", "isAsync"].includes(left.property?.name)) found.push(node);
  });
  return found;
}

/** A direct `eval` might use any name and so would keep every one; the page's policy forbids it anyway. */
function indirectEval(script) {
  return script.replace(/(?<![.\w$])eval\(/g, "(0,eval)(");
}

function parsed(script) {
  return parse(script, { ecmaVersion: "latest", sourceType: "module" });
}

function find(tree, wanted) {
  let found;
  full(tree, (node) => {
    if (!found && wanted(node)) found = node;
  });
  return found;
}

/** The text without some stretches of it. */
function without(script, stretches) {
  let at = 0;
  let rest = "";
  for (const { start, end } of [...stretches].sort((a, b) => a.start - b.start)) {
    rest += script.slice(at, start);
    at = Math.max(at, end);
  }
  return rest + script.slice(at);
}
