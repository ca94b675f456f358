// What a copy has that is not here: pure comparing, no storage. Nothing that was counted is dropped, on either side.

import { beside } from "../store/read-back.js";

/**
 * What is to be taken in, and what is said of it.
 * @param {object[]} sittings of the copy, each with its events
 * @param {object[]} stored the same of what is here
 * @param {() => string} newId for a log that forks from the one here
 * @returns {{changes: {kind: "new"|"longer"|"beside", sitting: object, events: object[]}[], told: {new: number, longer:
 *   number, same: number, beside: number}}}
 */
export function compared(sittings, stored, newId) {
  const changes = [];
  const told = { new: 0, longer: 0, same: 0, beside: 0 };
  let here = stored;
  for (const sitting of sittings) {
    const change = changeFor(sitting, here, newId);
    if (change) changes.push(change);
    if (change) here = after(here, change); // the next one may be a fork of this very log
    told[change?.kind ?? "same"] += 1;
  }
  return { changes, told };
}

/** The sittings as they are with a change. */
function after(stored, { sitting, events }) {
  const before = stored.find(({ id }) => id === sitting.id);
  const others = stored.filter((each) => each !== before);
  return [...others, { ...sitting, events: [...(before?.events ?? []), ...events] }];
}

function changeFor(sitting, stored, newId) {
  const alike = stored.filter((each) => isKin(each, sitting));
  if (alike.some((each) => begins(sitting, each))) return null;
  // Nothing was counted in it, and beside the other it would be taken for new each time.
  if (alike.length && !sitting.events.length) return null;
  const { events, ...bare } = sitting;
  const shorter = alike.filter((each) => begins(each, sitting)).sort((a, b) => b.events.length - a.events.length)[0];
  if (shorter) return longer(shorter, sitting);
  if (!alike.length) return { kind: "new", sitting: bare, events };
  return beside(bare, events, alike.some(({ id }) => id === sitting.id) ? newId() : sitting.id);
}

/** Logs of the same sitting, or of one that was kept beside it: marks are given once. */
function isKin(one, other) {
  return one.id === other.id || (one.events.length > 0 && one.events[0].mark === other.events[0]?.mark);
}

function longer({ events: held, ...sitting }, { scripts, events }) {
  const more = events.slice(held.length).map((event) => ({ ...event, sitting: sitting.id }));
  return { kind: "longer", sitting: { ...sitting, scripts }, events: more };
}

/** Whether one log is the beginning of the other, or all of it, in what happened and in what was to be cut. */
function begins(one, other) {
  return (
    starts(
      one.events.map(({ sitting, ...event }) => event),
      other.events.map(({ sitting, ...event }) => event),
    ) && starts(one.scripts, other.scripts)
  );
}

function starts(few, many) {
  return few.length <= many.length && few.every((each, i) => isSame(each, many[i]));
}

/** Whether two values of JSON are the same, in whatever order their names stand. */
function isSame(one, other) {
  if (Object.is(one, other) || one === other) return true;
  if (
    typeof one !== "object" ||
    typeof other !== "object" ||
    !one ||
    !other ||
    Array.isArray(one) !== Array.isArray(other)
  )
    return false;
  const [names, others] = [Object.keys(one), Object.keys(other)];
  return (
    names.length === others.length &&
    names.every((name) => Object.hasOwn(other, name) && isSame(one[name], other[name]))
  );
}
