// A plan as it is passed on: what is cut, of which cloth, for which quilt; as its screens have it, without their answers.

import { typedNumber } from "../lib/words/measure.js";
import { checksum } from "./checksum.js";

/** What a plan is called where nobody said anything. */
export const NAMELESS = Object.freeze({ title: "", date: "", by: "" });

/**
 * @param {{count: object, quilt: object, basket: object, layouts: object|null}} states what the screens hold; `layouts`
 *   those of the basket's plan, if there is one, as `packedLayouts` has them
 * @param {{id: string, units: string, said: object, rulers: object[]|null, withNames: boolean, shares: object|null}} more
 *   what it is called by whom, the rulers to go with it, and whether people's names do: addresses stay in histories
 * @returns {object} JSON: {id, units, title, date, count, quilt, basket} and what else there is of {by, layouts, rulers,
 *   shares}
 */
export function planOf({ count, quilt, basket, layouts = null }, { id, units, said, rulers, withNames, shares }) {
  return {
    id,
    units,
    title: said.title,
    date: said.date,
    count,
    quilt: withoutPeople(withoutPhotos(quilt), withNames),
    basket: { ...basket, skipped: [] },
    ...(withNames && said.by && { by: said.by }),
    ...(layouts && { layouts }),
    ...(rulers && { rulers }),
    ...(shares && { shares: withNames ? shares : nameless(shares) }),
  };
}

// A number, or a length with or without its unit, as it may be typed; names and titles are none.
const FIGURES = /^[\s\d./⁄¼-¾⅐-⅞⁰¹²³⁴-⁹₀-₉]*\d,\d+\s*[a-z"″]{0,2}\s*$/iu;

/** The same with every decimal sign a point, which is read everywhere. */
export function pointed(value, locale) {
  if (typeof value === "string") return FIGURES.test(value) ? typedNumber(value, locale) : value;
  if (Array.isArray(value)) return value.map((each) => pointed(each, locale));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, each]) => [name, pointed(each, locale)]));
}

/** What makes two plans the same, whoever has them: the text is another one where anything of it is another. */
export function likeness({ count, quilt, basket, layouts = null }) {
  const { class: lesson, ...rest } = withoutPhotos(quilt);
  const told = JSON.stringify([count, rest, { ...basket, skipped: [] }, layouts]);
  return checksum(new TextEncoder().encode(told)).toString(16);
}

/** Photos stay on their own device. */
function withoutPhotos(quilt) {
  const fabrics = quilt.fabrics.map(({ photo, photo_width, photo_inches, ...fabric }) => fabric);
  return { ...quilt, fabrics };
}

function withoutPeople(quilt, withNames) {
  return withNames ? quilt : { ...quilt, class: { ...quilt.class, names: "" } };
}

function nameless(shares) {
  return { ...shares, people: (shares.people ?? []).map((one) => ({ ...one, name: "" })) };
}
