// Calls functions of one of the page's modules, for the tests: reads {module, calls: [[name, ...arguments]]} from
// standard input and writes what they return.

import { text } from "node:stream/consumers";

const { module, calls } = JSON.parse(await text(process.stdin));
const found = await import(module);

process.stdout.write(JSON.stringify(calls.map(([name, ...given]) => found[name](...given))));
