// Histories of several devices, made up at random and counted by the page's own modules, without a page.
//
//   node joining.mjs worlds SEED COUNT < {app, table, scripts}   devices that count, undo, take back each other's copies and
//     lose their stores; what they report is joined. Writes for each world {logs, totals, reports}, and `unlike`: orders of
//     joining that came to something else
//   node joining.mjs algebra SEED COUNT < {app}                  sequences at random: joins that are not as a set's must be
//   node joining.mjs reports < {app, reports, plan}              what becomes of each report: its code, or "taken"
//   node joining.mjs shares < {app, cases}                       each case {layouts, people, how, pieces} shared out
//   node joining.mjs overview < {app, cases}                     each case as the leader's page has it

import { text } from "node:stream/consumers";
import { generator } from "./chance.mjs";

const [what, seed, count] = process.argv.slice(2);
const given = JSON.parse(await text(process.stdin));
const load = (name) => import(`${given.app}/${name}`);
const [logs, reports] = await Promise.all(["joining/logs.js", "joining/reports.js"].map(load));
let clock = 0;
Object.defineProperty(globalThis, "performance", { value: { now: () => (clock += 1000) }, configurable: true }); // no cut is a bump

const acts = { worlds, algebra, reports: judged, shares, overview };
process.stdout.write(JSON.stringify(await acts[what]()));

// ---- worlds

async function worlds() {
  const found = [];
  for (let number = 0; number < Number(count); number += 1) found.push(await world(generator(Number(seed) + number)));
  return found;
}

async function world(random) {
  const devices = [];
  for (let n = 2 + random.below(3); n > 0; n -= 1) devices.push(await device());
  const shown = []; // {report, sittings}: what somebody has passed on, and the logs that it was made of
  await begin(random.pick(devices));
  for (let n = 15 + random.below(30); n > 0; n -= 1) await happens(random, devices, shown);
  for (const each of devices) shown.push(await passedOn(each));
  const joinedUp = shown.reduce((set, { report }) => reports.takeIn(set, report, "plan"), {});
  return {
    logs: shown.flatMap(({ sittings }) => sittings.map(({ events }) => events)),
    totals: logs.totals(joinedUp),
    reports: shown.length,
    devices: new Set(Object.values(joinedUp).map((each) => each.device)).size,
    unlike: unlike(random, shown, joinedUp),
  };
}

/** Joined in another order, in groups, some of it twice: what is not the same. */
function unlike(random, shown, joinedUp) {
  const parts = [...shown, ...shown.filter(() => random.below(2))].map(({ report }) =>
    reports.takeIn({}, report, "plan"),
  );
  while (parts.length > 1) {
    const [one] = parts.splice(random.below(parts.length), 1);
    const [other] = parts.splice(random.below(parts.length), 1);
    parts.push(logs.joined(one, other));
  }
  return same(parts[0], joinedUp) ? [] : [parts[0], joinedUp];
}

async function device(place = null) {
  const [{ Store }, { Spare }] = await Promise.all([load("store/store.js"), load("store/spare.js")]);
  const store = new Store({ spare: new Spare(place ? [place] : []) }); // in memory: there is no database
  await store.open();
  return { store, open: new Map() };
}

async function begin({ store, open }) {
  const { Sitting } = await load("lib/mat/sitting.js");
  const sitting = await Sitting.begin(given.scripts[0], { plan: { id: "plan" } }, { store, table: given.table });
  open.set(sitting.id, sitting);
}

async function happens(random, devices, shown) {
  const act = random.below(20);
  const one = random.pick(devices);
  if (act < 12) return counts(random, one);
  if (act < 16) return copied(one, random.pick(devices));
  if (act < 18) return shown.push(await passedOn(one));
  if (act === 18) return begin(one);
  return devices.splice(devices.indexOf(one), 1, await lost(random, one));
}

/** Some cuts and undos, and whatever else has its place. */
async function counts(random, one) {
  const sitting = await opened(random, one);
  if (!sitting) return;
  for (let n = 1 + random.below(12); n > 0; n -= 1) {
    const rules = given.table.rules[sitting.step.do];
    const names = [
      ...Array(6).fill("cut"),
      "cut",
      "undo",
      random.pick(Object.keys(rules).filter((each) => each !== "switch")) ?? "cut",
    ];
    const name = random.pick(names);
    const number = name === "undo" || rules[name]?.n ? { n: 1 + random.below(name === "undo" ? 4 : 2) } : {};
    await sitting.add(name, number);
  }
}

/** A sitting of the device, as its store has it now. */
async function opened(random, { store }) {
  const { Sitting } = await load("lib/mat/sitting.js");
  const records = await store.exported();
  return records.length ? new Sitting(structuredClone(random.pick(records)), { store, table: given.table }) : null;
}

/** A copy of one device is taken back on another, read and compared as the page does it. */
async function copied(from, to) {
  const [{ readCopy }, { compared }] = await Promise.all([load("copies/reading.js"), load("copies/comparing.js")]);
  const file = JSON.stringify({ matside: 2, sittings: await from.store.exported() });
  const { sittings } = readCopy(file, { table: given.table, validate: () => ({ valid: true }) });
  const { changes } = compared(sittings, await to.store.exported(), () => crypto.randomUUID());
  if (changes.length) await to.store.takeIn(changes);
}

/** The store of a device is gone: nothing of it is left, or a second place that lacks what was counted last. */
async function lost(random, { store }) {
  if (random.below(2)) return device();
  const [sittings, values] = [await store.exported(), { device: await store.device() }];
  const cut = sittings.map((each) => ({ ...each, events: each.events.slice(0, random.below(each.events.length + 1)) }));
  const whole = { lengths: new Map(), read: async () => ({ values, sittings: [] }) };
  const place = {
    exact: false,
    read: async () => ({ mark: { turn: 1, n: cut.length }, gone: new Set(), sittings: cut, whole }),
  };
  return device(
    Object.assign(place, { begin() {}, append: () => true, whole() {}, here() {}, mark() {}, forget() {} }),
  );
}

async function passedOn({ store }) {
  const [sittings, own] = [await store.exported(), await store.device()];
  const sequences = sittings.flatMap((each) => logs.sequencesOf(each, given.table, own));
  const report = reports.reportOf({ plan: "plan", who: "Ann", device: own, sequences });
  return { report: JSON.parse(JSON.stringify(report)), sittings: structuredClone(sittings) };
}

// ---- algebra

function algebra() {
  const failures = [];
  const random = generator(Number(seed));
  for (let number = 0; number < Number(count); number += 1) {
    const [a, b, c] = [0, 0, 0].map(() => someSet(random));
    const { joined: join } = logs;
    if (!same(join(a, b), join(b, a))) failures.push(["commutative", a, b]);
    if (!same(join(join(a, b), c), join(a, join(b, c)))) failures.push(["associative", a, b, c]);
    if (!same(join(a, a), a) || !same(join(join(a, b), b), join(a, b))) failures.push(["idempotent", a, b]);
    if (!same(logs.totals(join(a, b)), logs.totals(join(b, a)))) failures.push(["totals", a, b]);
    if (Object.entries(a).some(([id, { length }]) => join(a, b)[id].length < length)) failures.push(["grows", a, b]);
  }
  return failures;
}

/** Few ids and few lengths, so that many meet; what is as long may differ, as if it were made up. */
function someSet(random) {
  const counts = () => ({ [random.pick(["one", "two"])]: { made: random.below(3) - 1, spoiled: random.below(2) } });
  const sequences = Array.from({ length: random.below(5) }, () => ({
    id: random.pick(["a", "b", "c", "d"]),
    device: random.pick(["x", "y", null]),
    length: 1 + random.below(3),
    counts: counts(),
    undone: random.below(2) ? [0] : [],
    back: random.below(2) ? [{ id: random.pick(["a", "b"]), at: 0, counts: counts() }] : [],
  }));
  return logs.setOf(sequences);
}

// ---- reports, shares, overview

function judged() {
  return given.reports.map((report) => {
    const set = logs.setOf([{ id: "mine", device: "d", length: 1, counts: {}, undone: [], back: [] }]);
    const before = JSON.stringify(set);
    try {
      const value = typeof report === "string" ? reports.readText(report) : report;
      const after = reports.takeIn(set, value, given.plan);
      if (JSON.stringify(logs.totals(after)).includes("null")) throw new Error("a total is no number");
      return "taken";
    } catch (error) {
      if (!(error instanceof reports.NotTaken)) throw error;
      return JSON.stringify(set) === before ? error.code : "changed";
    }
  });
}

async function shares() {
  const { cutHere, piecesIn, sharedOut, workOf } = await load("joining/shares.js");
  return given.cases.map(({ layouts, people, how, pieces }) => {
    const shared = sharedOut(layouts, people, how);
    return shared.map((share) => ({
      ...share,
      pieces: piecesIn(layouts, pieces, share),
      here: cutHere(layouts, share),
      work: share.items.reduce((sum, item) => sum + workOfItem(item, layouts, workOf), 0),
    }));
  });
}

function workOfItem({ layout, strip }, layouts, workOf) {
  if (layout === undefined) return 0;
  return strip === undefined ? workOf(layouts[layout]) : 1 + layouts[layout].strips[strip].count;
}

async function overview() {
  const group = await load("joining/group.js");
  return given.cases.map(({ kept, own, inHand, plan, taken = [] }) => {
    const now = taken.reduce((so, report, i) => group.withReport(so, reports.readReport(report, inHand.id), i), kept);
    return group.overview(now, own, inHand, plan);
  });
}

function same(one, other) {
  return JSON.stringify(ordered(one)) === JSON.stringify(ordered(other));
}

function ordered(value) {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([name, each]) => [name, ordered(each)]),
  );
}
