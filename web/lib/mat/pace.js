// The user's own pace, from the log: pieces a minute and the time that is left. Breaks are left out.

const BREAK = 120_000; // ms without any event: a break
const LEARNT = 40; // the newest counted events that the pace is taken from

/**
 * Milliseconds per piece over the newest cuts, or null before there are enough of them.
 * @param {{event: string, at: number, made: number}[]} log the events in order, each with the pieces that it added
 */
export function msPerPiece(log) {
  const steps = log
    .slice(1)
    // A count put right cut nothing.
    .map((event, i) => ({ made: event.event === "recount" ? 0 : event.made, took: event.at - log[i].at }));
  const working = steps.filter(({ took }) => took > 0 && took < BREAK).slice(-LEARNT);
  const made = working.reduce((sum, step) => sum + step.made, 0);
  const took = working.reduce((sum, step) => sum + step.took, 0);
  return made >= 3 ? took / made : null;
}

/** Minutes that `left` pieces take at this pace, rounded up; null while the pace is not known. */
export function minutesLeft(log, left) {
  const pace = msPerPiece(log);
  return pace === null ? null : Math.ceil((pace * left) / 60_000);
}

/** Pieces a minute at this pace, or null. */
export function perMinute(log) {
  const pace = msPerPiece(log);
  return pace === null ? null : 60_000 / pace;
}
