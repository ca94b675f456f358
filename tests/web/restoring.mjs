// Reads JSON lines {call, values} and writes what the page's own modules give for each.
import { createInterface } from "node:readline";

const [page] = process.argv.slice(2);
const { fitted, listOf, maybe, oneOf, such } = await import(`${page}/lib/kept/kinds.js`);
const { usableLocale } = await import(`${page}/lib/words/locale.js`);

const KIND = {
  units: oneOf(["in", "cm"]),
  hand: "right",
  layers: 1,
  ticks: true,
  rulers: maybe(listOf(such((ruler) => typeof ruler?.name === "string"))),
  keys: { cut: ["Enter"], undo: ["Left"] },
  cloths: [{ kind: "scrap", count: "1" }],
  changes: {},
  anything: null,
  placing: maybe(""),
};
const FRESH = {
  units: "in",
  hand: "right",
  layers: 1,
  ticks: true,
  rulers: null,
  keys: { cut: ["Enter"], undo: ["Left"] },
  cloths: [],
  changes: {},
  anything: null,
};

const calls = {
  fitted: (value) => fitted(value === null ? undefined : value, KIND, FRESH),
  locale: (...names) => usableLocale(...names),
  written: (...names) =>
    new Intl.NumberFormat(usableLocale(...names), {
      useGrouping: false,
    }).format(1234.5),
};

for await (const line of createInterface({ input: process.stdin })) {
  const { call, values } = JSON.parse(line);
  console.log(JSON.stringify(calls[call](...values)));
}
