// Folding the guide's log of events through the core's transition table. All rules are in the table; this only reads it.

const COUNTERS = ["made", "spoiled", "lost"];

/** An event that the table has no rule for at this step, or whose number is outside its limits. Nothing has changed. */
export class Illegal extends Error {}

/** Where a sitting begins. */
export const START = Object.freeze({ script: 0, step: 0, tallies: Object.freeze({}), stopped: false });

/** All states of a log, the first being the start and the last the present; an undone event leaves no state. */
export function foldTrail(table, scripts, events) {
  const trail = [START];
  for (const event of events) extendTrail(table, scripts, trail, event);
  return trail;
}

/** Takes one more event into a trail of states; throws `Illegal`, and leaves the trail as it was, when it has no place. */
export function extendTrail(table, scripts, trail, event) {
  if (event.event === "undo") undo(trail, event.n ?? 1);
  else trail.push(advance(table, scripts, trail.at(-1), event));
}

function undo(trail, times) {
  if (!(Number.isInteger(times) && times >= 1 && times < trail.length)) throw new Illegal(`there is nothing to undo ${times} times`);
  trail.splice(-times);
}

/** The state after one event (undo excepted). */
export function advance(table, scripts, state, event) {
  const step = stepOf(scripts, state);
  const rule = table.rules[step.do][event.event];
  if (!rule) throw new Illegal(`${event.event} has no place at the step ${step.do}`);
  if (rule.n) checkNumber(limits(rule, scripts, state), event);
  const [script, index] = went(rule.go, event, scripts, state);
  const counted = tallied(rule, event, state, step);
  const tallies = rule.carries && event[rule.carries] ? carried(counted, state.script, script) : counted;
  return Object.freeze({ script, step: index, tallies, stopped: rule.stopped ?? false });
}

/** The step at hand. */
export function stepOf(scripts, state) {
  return scripts[state.script].steps[state.step];
}

/** What an event may carry at this step: [least, most], null when it carries no number, undefined when it has no place. */
export function allowed(table, scripts, state, name) {
  const rule = table.rules[stepOf(scripts, state).do][name];
  if (!rule) return undefined;
  return rule.n ? limits(rule, scripts, state) : null;
}

/** The counters of a strip, all 0 before its first event. */
export function tally(state, strip, script = state.script) {
  return state.tallies[`${script}:${strip}`] ?? { made: 0, spoiled: 0, lost: 0 };
}

/** A counter over all strips. */
export function total(state, counter) {
  return Object.values(state.tallies).reduce((sum, one) => sum + one[counter], 0);
}

function limits(rule, scripts, state) {
  return rule.n.map((limit) => (typeof limit === "number" ? limit : LIMITS[limit](scripts, state)));
}

const LIMITS = {
  gives: (scripts, state) => stepOf(scripts, state).gives,
  strip_made: (scripts, state) => tally(state, stepOf(scripts, state).strip).made,
  minus_made: (scripts, state) => -total(state, "made"),
  ahead: (scripts, state) => ahead(scripts[state.script].steps, state.step),
  many: () => 100000,
};

function ahead(steps, from) {
  const strip = steps[from].strip;
  return steps.slice(from).filter((step) => step.do === "piece" && step.strip === strip).length;
}

function checkNumber([least, most], event) {
  if (!(Number.isInteger(event.n) && event.n >= least && event.n <= most)) throw new Illegal(`${event.event} of ${event.n} is outside ${least} to ${most}`);
}

function tallied(rule, event, state, step) {
  if (!rule.tally) return state.tallies;
  const n = event.n ?? 0;
  const gives = step.gives ?? 0;
  const terms = { one: 1, gives, n, n_gives: n * gives };
  const next = { ...tally(state, step.strip) };
  for (const counter of COUNTERS) {
    for (const [term, factor] of Object.entries(rule.tally[counter] ?? {})) next[counter] += factor * terms[term];
  }
  return Object.freeze({ ...state.tallies, [`${state.script}:${step.strip}`]: Object.freeze(next) });
}

function carried(tallies, from, to) {
  const moved = Object.entries(tallies).map(([key, counters]) => {
    const [script, strip] = key.split(":");
    return [Number(script) === from ? `${to}:${strip}` : key, counters];
  });
  return Object.freeze(Object.fromEntries(moved));
}

function went(go, event, scripts, state) {
  if (go === "stay") return [state.script, state.step];
  if (go === "next") return [state.script, state.step + 1];
  if (go === "script") return named(event, scripts);
  return [state.script, past(go.past, event.n, scripts[state.script].steps, state.step)];
}

function named({ script, step = 0 }, scripts) {
  if (!scripts[script]?.steps[step]) throw new Illegal(`there is no step ${step} of a script ${script}`);
  return [script, step];
}

function past(kind, times, steps, from) {
  const strip = steps[from].strip;
  let index = from;
  for (let left = times; left && steps[index].strip === strip; index += 1) left -= steps[index].do === kind ? 1 : 0;
  return index;
}
