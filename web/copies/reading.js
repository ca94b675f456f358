// Reading a copy: whole or not at all, before anything is touched. Pure: no page, no store.

import { foldTrail } from "../lib/mat/fold.js";
import { namesItsUndos } from "../lib/mat/standing.js";
import { Refused } from "./refused.js";

/**
 * The newest form of a copy that is read here, and the one that is written. Form 1 had sittings only, form 2 rulers and
 * settings besides, form 3 plans.
 */
export const FORMAT = 3;
/** A larger file is not even opened. */
export const MOST_BYTES = 20_000_000;
// Folding looks at the steps of a script for every event: a file that was made to keep the page busy is refused.
const MOST_WORK = 300_000_000;
const MOST_DEEP = 60; // values within values

/**
 * What a copy holds: {sittings, kept, plan, plans, report}, `plan` and `report` null where it has none. Throws `Refused`, and nothing else, for any text that is not a whole copy.
 * @param {string} text
 * @param {{table: object, validate: (value: object) => {valid: boolean, errors: object[]}}} means the guide's table,
 *   and the judge of the shape by `schema.json`
 */
export function readCopy(text, means) {
  return readValue(() => parsed(text), means);
}

/** What was passed on as one value, {plan} or another part of a copy, judged as a copy is. */
export function readPart(value, means) {
  return readValue(() => ({ matside: FORMAT, sittings: [], ...value }), means);
}

function readValue(get, { table, validate }) {
  try {
    return whole(get(), table, validate);
  } catch (error) {
    if (error instanceof Refused) throw error;
    throw new Refused("damaged", {}, String(error));
  }
}

function parsed(text) {
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new Refused("foreign", {}, String(error));
  }
}

function whole(copy, table, validate) {
  if (!Number.isInteger(copy?.matside) || copy.matside < 1) throw new Refused("foreign");
  if (copy.matside > FORMAT) throw new Refused("newer");
  if (!isShallow(copy, MOST_DEEP)) throw new Refused("damaged", {}, "nested too deep");
  const { valid, errors } = validate(copy);
  if (!valid)
    throw new Refused(
      "damaged",
      {},
      errors.map(({ instanceLocation, error }) => `${instanceLocation} ${error}`).at(-1),
    );
  const ids = copy.sittings.map(({ id }) => id);
  if (new Set(ids).size < ids.length) throw new Refused("damaged", {}, "two sittings of the same id");
  if (work(copy.sittings) > MOST_WORK) throw new Refused("large");
  copy.sittings.forEach((sitting) => check(sitting, table));
  const { sittings, kept = {}, plan = null, plans = [], report = null } = copy;
  return { sittings: sittings.map(plain), kept, plan, plans, report };
}

function isShallow(value, levels) {
  return (
    typeof value !== "object" ||
    value === null ||
    (levels > 0 && Object.values(value).every((inside) => isShallow(inside, levels - 1)))
  );
}

function work(sittings) {
  return sittings.reduce(
    (sum, { scripts, events }) => sum + events.length * Math.max(...scripts.map(({ steps }) => steps.length)),
    0,
  );
}

/** A sitting with what belongs to it and nothing else. */
function plain({ id, title = null, started, scripts, events }) {
  return { id, title, started, scripts, events };
}

/** A sitting's log must be whole, and must fold through the table with its scripts. */
function check({ id, started, scripts, events }, table) {
  const because = (detail) => new Refused("count", { at: started }, `${id}: ${detail}`);
  if (scripts.some(({ version = 1 }) => version > table.version)) throw new Refused("newer");
  const lost = scripts.map((script) => lacking(script, table)).find(Boolean);
  if (lost) throw because(lost);
  if (events.some((event, i) => event.sequence !== i)) throw because("an event is missing or stands twice");
  if (events.some(({ sitting }) => sitting !== id)) throw because("an event of another sitting");
  if (new Set(events.map(({ mark }) => mark)).size < events.length) throw because("two events of the same mark");
  try {
    foldTrail(table, scripts, events);
  } catch (error) {
    throw because(String(error));
  }
  if (!namesItsUndos(events)) throw because("an undo of something else than it names");
}

/** What a script refers to and does not have; null when nothing is lacking. */
function lacking({ cloths, strips, scenes = [], pieces, steps }, table) {
  const beyond = (index, list) => index !== null && index !== undefined && index >= list.length;
  const ids = new Set(pieces.map(({ id }) => id));
  if (strips.some(({ cloth, piece }) => beyond(cloth, cloths) || !ids.has(piece)))
    return "a strip of a cloth or a piece that is not there";
  if (steps.some(({ do: act }) => !Object.hasOwn(table.rules, act))) return "a step that no table knows";
  if (steps.some(({ strip, cloth, scene }) => beyond(strip, strips) || beyond(cloth, cloths) || beyond(scene, scenes)))
    return "a step at something that is not there";
  return steps.at(-1).do === "done" ? null : "no last step";
}
