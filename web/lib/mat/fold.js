// Folding the guide's log of events through the core's transition table. All rules are in the
// table; this only reads it.

const NONE = Object.freeze({ made: 0, spoiled: 0, lost: 0, aside: 0 });

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

/**
 * Takes one more event into a trail of states; throws `Illegal`, and leaves the trail as it was, when it has no place.
 */
export function extendTrail(table, scripts, trail, event) {
  if (event.event === "undo") undo(trail, event.n ?? 1);
  else trail.push(advance(table, scripts, trail.at(-1), event));
}

function undo(trail, times) {
  if (!(Number.isInteger(times) && times >= 1 && times < trail.length))
    throw new Illegal(`there is nothing to undo ${times} times`);
  trail.splice(-times);
}

/** The state after one event (undo excepted). */
export function advance(table, scripts, state, event) {
  const step = stepOf(scripts, state);
  const rule = table.rules[step.do][event.event];
  if (!rule) throw new Illegal(`${event.event} has no place at the step ${step.do}`);
  const at = { table, scripts, state, rule, step, steps: scripts[state.script].steps };
  if (rule.n) checkNumber(limits(at), event);
  const [script, index] = went(at, event);
  const counted = tallied(at, event, index);
  const tallies = rule.carries && event[rule.carries] ? carried(counted, state.script, script) : counted;
  return Object.freeze({ script, step: index, tallies, stopped: rule.stopped ?? false });
}

/** The step at hand. */
export function stepOf(scripts, state) {
  return scripts[state.script].steps[state.step];
}

/**
 * What an event may carry at this step: [least, most], null when it carries no number, undefined when it has no place.
 */
export function allowed(table, scripts, state, name) {
  const step = stepOf(scripts, state);
  const rule = table.rules[step.do][name];
  if (!rule) return undefined;
  return rule.n ? limits({ table, scripts, state, rule, step, steps: scripts[state.script].steps }) : null;
}

/** The counters of a strip, all 0 before its first event. */
export function tally(state, strip, script = state.script) {
  return state.tallies[`${script}:${strip}`] ?? NONE;
}

/** A counter over all strips. */
export function total(state, counter) {
  return Object.values(state.tallies).reduce((sum, one) => sum + one[counter], 0);
}

/** Pieces that a step's cut frees; 0 where nothing is counted at it. */
export function frees(table, step) {
  return table.rules[step.do].cut?.tally?.made ? step.gives : 0;
}

/**
 * Whether what a step frees is a piece of the whole: strips that are joined later are none yet,
 * what they are joined to is.
 */
export function isCounted(table, script, { do: act, strip }) {
  if (table.rules[act].cut?.whole) return true;
  return script.pieces?.find(({ id }) => id === script.strips[strip]?.piece)?.counted ?? true;
}

function limits(at) {
  return at.rule.n.map((limit) => (typeof limit === "number" ? limit : LIMITS[limit](at)));
}

const LIMITS = {
  gives: ({ step }) => step.gives,
  strip_made: (at) => madeHere(at),
  minus_made: ({ state }) => -total(state, "made"),
  ahead: ({ steps, step, state }) =>
    steps.slice(state.step).filter((each) => each.do === "piece" && each.strip === step.strip).length,
  behind: (at) => -behind(at),
  many: () => 100000,
};

/** How many piece steps back one can go without a count below 0. */
function behind(at) {
  const { steps, step, state } = at;
  const back = [...steps.slice(0, state.step).keys()].filter(
    (i) => steps[i].do === "piece" && steps[i].strip === step.strip,
  );
  return back.filter((index) => madeHere(at) + passed(at, index) >= 0).length;
}

function checkNumber([least, most], event) {
  if (!(Number.isInteger(event.n) && event.n >= least && event.n <= most))
    throw new Illegal(`${event.event} of ${event.n} is outside ${least} to ${most}`);
}

function tallied(at, event, index) {
  const { rule, state, step } = at;
  if (!rule.tally) return state.tallies;
  const terms = {
    gives: step.gives ?? 0,
    n: event.n ?? 0,
    strip_made: Math.max(0, madeHere(at)),
    passed: typeof rule.go === "object" ? passed(at, index) : 0,
  };
  const next = { ...tally(state, step.strip) };
  for (const [counter, factors] of Object.entries(rule.tally)) {
    for (const [term, factor] of Object.entries(factors))
      next[counter === "made" ? counterOf(at) : counter] += factor * terms[term];
  }
  return Object.freeze({ ...state.tallies, [`${state.script}:${step.strip}`]: Object.freeze(next) });
}

/** Pieces that the steps between this one and another free, below 0 where that one is before. */
function passed({ table, steps, state }, index) {
  const [first, last] = [Math.min(state.step, index), Math.max(state.step, index)];
  const freed = steps.slice(first, last).reduce((sum, step) => sum + frees(table, step), 0);
  return index > state.step ? freed : -freed;
}

function madeHere(at) {
  return tally(at.state, at.step.strip)[counterOf(at)];
}

/** Where what is made here is counted: strips that are joined later are no pieces yet. */
function counterOf({ table, scripts, state, rule, step }) {
  return rule.whole || isCounted(table, scripts[state.script], step) ? "made" : "aside";
}

function carried(tallies, from, to) {
  const moved = Object.entries(tallies).map(([key, counters]) => {
    const [script, strip] = key.split(":");
    return [Number(script) === from ? `${to}:${strip}` : key, counters];
  });
  return Object.freeze(Object.fromEntries(moved));
}

function went(at, event) {
  const {
    rule: { go },
    state,
    scripts,
  } = at;
  if (go === "stay") return [state.script, state.step];
  if (go === "next") return [state.script, state.step + 1];
  if (go === "script") return named(event, scripts);
  return [state.script, within(at, go, event.n)];
}

function named({ script, step = 0 }, scripts) {
  if (!scripts[script]?.steps[step]) throw new Illegal(`there is no step ${step} of a script ${script}`);
  return [script, step];
}

function within({ steps, step, state }, go, n) {
  if (go.to) return to(go.to, steps, state.step);
  return n < 0 ? back(go.along, -n, steps, state.step) : past(go.past ?? go.along, n, steps, state.step, step.strip);
}

function past(kind, times, steps, from, strip) {
  let index = from;
  for (let left = times; left && steps[index].strip === strip; index += 1) left -= steps[index].do === kind ? 1 : 0;
  return index;
}

function back(kind, times, steps, from) {
  let index = from;
  for (let left = times; left; left -= steps[index].do === kind ? 1 : 0) index -= 1;
  return index;
}

function to(kind, steps, from) {
  const { strip } = steps[from];
  let index = from;
  while (steps[index].do !== kind && steps[index + 1].strip === strip) index += 1;
  return index;
}
