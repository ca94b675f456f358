// Folds logs with the page's own modules, for the tests: reads {app, table, scripts, logs: [events]} from
// standard input and writes, for each log, what a sitting shows at its end, or {refused: the number of the
// event that has no place}.

import { text } from "node:stream/consumers";

const { app, table, scripts, logs } = JSON.parse(await text(process.stdin));
const { extendTrail, foldTrail, Illegal } = await import(`${app}/lib/mat/fold.js`);
const { Sitting } = await import(`${app}/lib/mat/sitting.js`);

process.stdout.write(JSON.stringify(logs.map(folded)));

function folded(events) {
  const refused = firstRefused(events);
  if (refused !== null) return { refused };
  const sitting = new Sitting({ id: "one", title: {}, started: 0, scripts, events }, { table });
  const effects = Object.fromEntries(
    ["cut", "spoiled", "ends_early", "extra"].map((name) => [name, sitting.would(name, 1)]),
  );
  return {
    state: foldTrail(table, scripts, events).at(-1),
    counts: sitting.counts(),
    piles: sitting.piles(),
    effects,
    still: sitting.counts(),
  };
}

function firstRefused(events) {
  const trail = foldTrail(table, scripts, []);
  for (const [i, event] of events.entries()) {
    const before = [...trail];
    try {
      extendTrail(table, scripts, trail, event);
    } catch (error) {
      if (!(error instanceof Illegal)) throw error;
      if (trail.length !== before.length || trail.some((state, k) => state !== before[k]))
        throw new Error("a refused event changed the trail");
      return i;
    }
  }
  return null;
}
