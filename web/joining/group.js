// A plan's people: who has what, what each has cut, what is missing and what is too much. Pure: no page, no store.
//
// What is kept is {me, people, way, kits, reports}: names, the last as the group's list has them; `reports` as they were
// taken in, each with `taken`, when that was.

import { joined, missing, setOf, sum, surplus, totals } from "./logs.js";
import { piecesIn, readShares, stripsIn } from "./shares.js";

/** What a group begins with. */
export const FRESH = Object.freeze({ me: "", people: [], way: "cloth", kits: "", reports: [] });

/** The group with a report that is whole; a second one of the same device is joined with the first. */
export function withReport(group, report, taken) {
  const before = group.reports.find(isSame(report));
  const sequences = Object.values(joined(setOf(before?.sequences ?? []), setOf(report.sequences)));
  return { ...without(group, report), reports: [...without(group, report).reports, { ...report, sequences, taken }] };
}

/** The group without what was taken in from a device for a plan. */
export function without(group, report) {
  return { ...group, reports: group.reports.filter((each) => !isSame(report)(each)) };
}

function isSame({ plan, device }) {
  return (each) => each.plan === plan && each.device === device;
}

/**
 * How it stands with a plan.
 * @param {object} group as it is kept
 * @param {{device: string, sequences: object[]}} own what this device has counted, and knows of copies
 * @param {{id: string, shares: object[]|null}} inHand
 * @param {{layouts: object[], pieces: object[], counts?: object}} plan its layouts, what it is for, and how what is cut is counted
 * @returns {{people: {name, mine, place, items, strips, made, of, spoiled, at, shown, reports}[], kinds: {id, need, made, missing, surplus,
 *   by}[], made: number, need: number}} `place` is that of a person's share, below
 *   0 without one; `by` are those of the people who have cut more of it than their share, or any
 *   where nothing is shared out; `at` is when a person counted last, as far as that is known
 */
export function overview(group, own, inHand, plan) {
  const ofPlan = group.reports.filter((each) => each.plan === inHand.id);
  const set = joined(setOf(own.sequences), setOf(ofPlan.flatMap(({ sequences }) => sequences)));
  const reports = ofPlan.filter(({ device }) => device !== own.device); // one's own, shown to oneself, is no other person
  const needs = counted(Object.fromEntries(plan.pieces.map(({ id, need }) => [id, Number(need)])), plan);
  const found = totals(set);
  const people = peopleOf({ group, own, reports, shares: readShares(inHand.shares) }, set, plan);
  const [lacks, more] = [missing(found, needs), surplus(found, needs)];
  const kinds = [...new Set([...Object.keys(needs), ...Object.keys(more)])].map((id) => ({
    id,
    need: needs[id] ?? 0,
    made: Math.max(0, found[id]?.made ?? 0),
    missing: lacks[id] ?? 0,
    surplus: more[id] ?? 0,
    by: more[id] ? people.filter((each) => each.cut[id] > (each.share[id] ?? 0)) : [],
  }));
  const all = (name) => kinds.reduce((n, each) => n + each[name], 0);
  return { people, kinds, made: all("made") - all("surplus"), need: all("need") };
}

/** Numbers of pieces as cut, as they are counted: of some each gives several. */
function counted(numbers, { counts }) {
  return Object.fromEntries(Object.entries(numbers).map(([id, n]) => [id, n * (counts?.[id]?.each || 1)]));
}

/**
 * Everybody: this phone's own, those of the list, whoever else has a share or has shown what was counted, shares that came
 * without a name, and devices that nobody has shown.
 */
function peopleOf({ group, own, reports, shares }, set, plan) {
  const isMe = (name) => group.me !== "" && isAlike(name, group.me);
  const place = (name) => shares.findIndex(({ who }) => who !== "" && isAlike(who, name));
  const row = (name, given, devices, shown) => {
    const cut = Object.values(set).filter(({ device }) => devices.includes(device));
    return {
      ...person(cut, shares[given], plan),
      name,
      place: given,
      mine: false,
      shown: devices.length > 0,
      reports: shown,
    };
  };
  const of = (name, mine) => {
    const shown = reports.filter(({ who }) => (mine ? isMe(who) : isAlike(who, name)));
    const devices = shown.map(({ device }) => device);
    return { ...row(name, place(name), mine ? [own.device, ...devices] : devices, shown), mine };
  };
  const unnamed = [...shares.keys()].filter((given) => shares[given].who === "");
  const strange = Object.values(set)
    .map(({ device }) => device)
    .filter((device) => device !== own.device && !reports.some((each) => each.device === device));
  return [
    of(group.me, true),
    ...namesOf({ group, reports, shares }, isMe).map((name) => of(name, false)),
    ...unnamed.map((given) => row("", given, [], [])),
    ...(strange.length ? [{ ...row(null, -1, strange, []), shown: false }] : []),
  ];
}

/** The names of all others, each once. */
function namesOf({ group, reports, shares }, isMe) {
  const named = shares.map(({ who }) => who).filter(Boolean);
  const all = [...group.people, ...named, ...reports.map(({ who }) => who)];
  return all.filter((name, i) => !isMe(name) && all.findIndex((each) => isAlike(each, name)) === i);
}

function person(sequences, share, plan) {
  const made = sequences.reduce((all, { counts }) => sum(all, counts), {});
  const cut = Object.fromEntries(Object.entries(made).map(([id, { made: n = 0 }]) => [id, n]));
  const of = share ? counted(piecesIn(plan.layouts, plan.pieces, share), plan) : {};
  const all = (numbers) => Object.values(numbers).reduce((n, each) => n + each, 0);
  return {
    items: share?.items ?? [],
    strips: share ? stripsIn(plan.layouts, share) : [],
    share: of,
    cut,
    made: Math.max(0, all(cut)),
    of: all(of),
    spoiled: Math.max(
      0,
      Object.values(made).reduce((n, each) => n + (each.spoiled ?? 0), 0),
    ),
    at: Math.max(0, ...sequences.map(({ at }) => at)),
  };
}

/** Whether two names are one: people type theirs by themselves, and again. */
export function isAlike(one, other) {
  const plain = (name) => name.normalize("NFKC").trim().toLowerCase();
  return plain(one) === plain(other);
}
