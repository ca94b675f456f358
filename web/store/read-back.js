// What of the second place the record lacks: pure comparing, no storage.

/**
 * What is to be taken in for one sitting of the second place, beside what the record holds of it (or undefined): {kind:
 * "new" | "longer" | "beside", sitting, events}, or null where the record has all of it. A log that forks from the
 * record's becomes a sitting of its own: nothing that was counted is dropped.
 */
export function lacking(found, held, newId) {
  const { events, ...sitting } = found;
  if (!held) return { kind: "new", sitting, events };
  const shared = events.findIndex((event, i) => event.mark !== held.events[i]?.mark);
  if (shared === -1) return null;
  if (shared === held.events.length) return { kind: "longer", sitting, events: events.slice(shared) };
  return beside(sitting, events, newId());
}

/** The same sitting under another id. */
export function beside(sitting, events, id) {
  return { kind: "beside", sitting: { ...sitting, id }, events: events.map((event) => ({ ...event, sitting: id })) };
}

/** The newest of some marks {turn, n}; undefined where there is none. */
export function newest(marks) {
  return marks.filter(Boolean).sort((a, b) => b.turn - a.turn)[0];
}
