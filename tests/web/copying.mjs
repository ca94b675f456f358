// Copies that were changed at random, read and taken in by the page's own modules, without a page.
//
//   node copying.mjs SEED FIRST COUNT < {app, table, copy}      judges the cases FIRST to FIRST + COUNT - 1   node
// copying.mjs SEED FIRST COUNT shapes < the same          gives the copies, but for those nested deep, with the
// page's judgement of their shape
//
// A case is made by its seed and its number alone, so a long run can be stopped and gone on with. Writes
// {failures, seen} or a list.

import { readFile } from "node:fs/promises";
import { text } from "node:stream/consumers";
import { generator } from "./chance.mjs";

const [seed, first, count, what] = process.argv.slice(2);
const { app, table, copy } = JSON.parse(await text(process.stdin));
const [{ readCopy }, { Refused }, { compared }, { foldTrail, advance }, { Sitting }, { Validator }] = await Promise.all(
  [
    "copies/reading.js",
    "copies/refused.js",
    "copies/comparing.js",
    "lib/mat/fold.js",
    "lib/mat/sitting.js",
    "vendor/json-schema/index.js",
  ].map((name) => import(`${app}/${name}`)),
);
const schema = JSON.parse(await readFile(new URL(`${app}/copies/schema.json`), "utf-8"));
const validator = new Validator(schema, "2020-12");
const validate = (value) => validator.validate(value);

/** Judges so many cases from one on: {failures: [{number, why}], seen: {what became of them: how many}}. */
function run(of, from, many) {
  const [failures, seen] = [[], {}];
  for (let number = from; number < from + many && failures.length < 20; number += 1) {
    try {
      const came = judged(made(of, number));
      seen[came] = (seen[came] ?? 0) + 1;
    } catch (error) {
      failures.push({ number, why: String(error.stack ?? error) });
    }
  }
  return { failures, seen };
}

function shapes() {
  const found = [];
  for (let number = Number(first); number < Number(first) + Number(count); number += 1) {
    const { file } = made(Number(seed), number);
    const value = parsed(file);
    if (value !== undefined && !file.includes("[".repeat(60))) found.push({ value, valid: validate(value).valid });
  }
  return found;
}

function parsed(file) {
  try {
    return JSON.parse(file);
  } catch {
    return undefined;
  }
}

// ---- what must hold

function judged({ file, stored }) {
  const before = JSON.stringify(stored);
  let read;
  try {
    read = readCopy(file, { table, validate });
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    same(JSON.stringify(stored), before, "a refused copy changed the store");
    return error.code;
  }
  const { changes, told } = compared(read.sittings, stored, ids());
  const after = takenIn(stored, changes);
  same(JSON.stringify(stored), before, "comparing changed the store");
  nothingLost(stored, after);
  read.sittings.forEach((sitting) => isThere(sitting, after));
  after.forEach((sitting) => new Sitting(structuredClone(sitting), { table }).counts());
  same(
    Object.values(told).reduce((sum, n) => sum + n),
    read.sittings.length,
    "the numbers that are said",
  );
  const again = compared(read.sittings, after, ids());
  same(again.changes.length, 0, "taking the same copy again changed something");
  return (
    Object.keys(told)
      .filter((kind) => told[kind])
      .join("+") || "nothing"
  );
}

/** The store after the changes, as it takes them in: events follow those that are there. */
function takenIn(stored, changes) {
  const held = new Map(stored.map((sitting) => [sitting.id, structuredClone(sitting)]));
  for (const { kind, sitting, events } of structuredClone(changes)) {
    const there = held.get(sitting.id);
    same(Boolean(there), kind === "longer", `a ${kind} sitting is there already, or is not`);
    const all = [...(there?.events ?? []), ...events];
    all.forEach((event, i) =>
      same(`${event.sitting} ${event.sequence}`, `${sitting.id} ${i}`, "an event out of its place"),
    );
    held.set(sitting.id, { ...sitting, events: all });
  }
  return [...held.values()];
}

function nothingLost(stored, after) {
  for (const { id, events, scripts, started } of stored) {
    const now = after.find((each) => each.id === id);
    same(JSON.stringify(now.events.slice(0, events.length)), JSON.stringify(events), "what was stored has changed");
    same(
      JSON.stringify(now.scripts.slice(0, scripts.length)),
      JSON.stringify(scripts),
      "the scripts that were stored have changed",
    );
    same(now.started, started, "when it was begun");
  }
}

function isThere({ events }, after) {
  const marks = JSON.stringify(events.map(({ mark, event, n = null }) => [mark, event, n]));
  const found = after.some(
    (each) =>
      JSON.stringify(each.events.slice(0, events.length).map(({ mark, event, n = null }) => [mark, event, n])) ===
      marks,
  );
  same(found, true, "a log of the copy is nowhere");
}

function same(found, wanted, about) {
  if (found !== wanted) throw new Error(`${about}: ${found} is not ${wanted}`);
}

function ids() {
  let last = 0;
  return () => `beside-${(last += 1)}`;
}

// ---- cases

function made(of, number) {
  const random = generator(of * 1_000_003 + number);
  const changed = structuredClone(copy);
  const stored = held(random);
  for (let times = random.below(3); times > 0; times -= 1) random.pick(WHOLE)(random, changed);
  for (let times = random.below(3); times > 0; times -= 1) broken(random, changed);
  let file = JSON.stringify(changed);
  if (random.below(10) === 0) file = random.pick(TEXTS)(random, file);
  return { file, stored };
}

/**
 * What is stored: of each sitting of the copy nothing, its beginning, or all of it, sometimes
 * gone on with in another way.
 */
function held(random) {
  return copy.sittings
    .filter(() => random.below(4) > 0)
    .map((sitting) => {
      const { events, ...rest } = structuredClone(sitting);
      const mine = {
        ...rest,
        events: events.slice(0, random.below(events.length + 1)),
      };
      if (random.below(3) === 0) goesOn(random, mine);
      return mine;
    });
}

// What happens to a phone that the copy is of, which leaves it whole …
const WHOLE = [
  (random, changed) => goesOn(random, random.pick(changed.sittings) ?? {}),
  (random, changed) => {
    const sitting = random.pick(changed.sittings);
    if (sitting) sitting.events.length = random.below(sitting.events.length + 1);
  },
  (random, changed) => {
    changed.sittings.splice(random.below(changed.sittings.length + 1), 1);
  },
  (random, changed) => {
    Object.assign(
      changed,
      random.pick([{ matside: 1 }, { kept: {} }, { kept: { settings: { units: "cm" } } }, { more: 1 }]),
    );
  },
];
// … and what does not.
const VALUES = [
  null,
  true,
  0,
  -1,
  0.5,
  1e9,
  1e308,
  -0,
  "",
  "x",
  "<img src=x onerror=alert(1)>",
  "toString",
  "__proto__",
  [],
  {},
  [[]],
  { event: "cut" },
  "constructor",
  2 ** 53,
  "\u0000",
  "\ud800",
];
const BROKEN = [
  (random, changed) =>
    at(random, changed, (holder, key) => {
      holder[key] = structuredClone(random.pick(VALUES));
    }),
  (random, changed) =>
    at(random, changed, (holder, key) => {
      if (Array.isArray(holder)) holder.splice(key, 1);
      else delete holder[key];
    }),
  (random, changed) =>
    at(random, changed, (holder, key) => {
      if (Array.isArray(holder)) holder.splice(key, 0, structuredClone(holder[key]));
    }),
  (random, changed) =>
    at(random, changed, (holder, key) => {
      if (Array.isArray(holder)) holder.reverse();
      else
        Object.defineProperty(holder, random.pick(["__proto__", "extra", "length"]), {
          value: holder[key],
          enumerable: true,
          configurable: true,
          writable: true,
        });
    }),
  (random, changed) => {
    const [one, other] = [random.pick(changed.sittings), random.pick(changed.sittings)];
    if (one && other) one.events = structuredClone(other.events);
  },
  (random, changed) => {
    const event = random.pick(random.pick(changed.sittings)?.events ?? []);
    if (event)
      Object.assign(event, {
        event: random.pick(["cut", "undo", "spoiled", "recount", "switch", "stop", "toString", "wrong_width"]),
        n: random.below(9) - 3,
      });
  },
];

/** A change that finds nothing to change any more changes nothing. */
function broken(random, changed) {
  try {
    random.pick(BROKEN)(random, changed);
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
  }
}

const TEXTS = [
  (random, file) => file.slice(0, random.below(file.length)),
  (random, file) => {
    const place = random.below(file.length);
    return file.slice(0, place) + random.pick(["", "{", "]", "9", '"', "\\", "e9", "null"]) + file.slice(place + 1);
  },
  (random, file) =>
    random.pick([
      "",
      "null",
      "[]",
      "{}",
      "7",
      '"matside"',
      '{"matside":3}',
      '{"matside":2}',
      "[".repeat(5000) + "]".repeat(5000),
      `{"matside":2,"sittings":[],"deep":${"[".repeat(3000)}${"]".repeat(3000)}}`,
      "\ufeff" + file,
    ]),
];

/** Some event that has its place now, by the table: what another window, or the same one later, would have added. */
function goesOn(random, sitting) {
  if (!sitting.events) return;
  for (let more = 1 + random.below(3); more > 0; more -= 1) {
    const trail = foldTrail(table, sitting.scripts, sitting.events);
    const step = sitting.scripts[trail.at(-1).script].steps[trail.at(-1).step];
    const event =
      trail.length > 1 && random.below(5) === 0
        ? { event: "undo" }
        : random.pick(
            Object.keys(table.rules[step.do])
              .filter((name) => name !== "switch")
              .map((name) => ({ event: name, n: 1 })),
          );
    if (event.event !== "undo" && !table.rules[step.do][event.event].n) delete event.n;
    try {
      if (event.event !== "undo") advance(table, sitting.scripts, trail.at(-1), event);
      sitting.events.push({
        at: 1000,
        ...event,
        mark: `more-${random.below(1e9)}`,
        sitting: sitting.id,
        sequence: sitting.events.length,
      });
    } catch {
      // it has no place with this number
    }
  }
}

/** Somewhere in the copy, deep or not. */
function at(random, changed, change) {
  let [holder, key] = [changed, random.pick(Object.keys(changed))];
  while (typeof holder[key] === "object" && holder[key] && Object.keys(holder[key]).length && random.below(5) > 0) {
    [holder, key] = [holder[key], random.pick(Object.keys(holder[key]))];
  }
  if (key !== undefined) change(holder, Array.isArray(holder) ? Number(key) : key);
}

process.stdout.write(JSON.stringify(what === "shapes" ? shapes() : run(Number(seed), Number(first), Number(count))));
