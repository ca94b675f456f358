// What was kept may be of any kind: an older version, a newer one or a damaged store may have written it. What is not
// of the kind that is wanted is replaced by its default, and the rest is kept.

const FITS = Symbol("fits");

/** A kind by a test of one's own. */
export function such(fits) {
  return { [FITS]: fits };
}

/** One of a few values. */
export function oneOf(choices) {
  return such((value) => choices.includes(value));
}

/** Null, or something of another kind. */
export function maybe(kind) {
  return such((value) => value === null || fittedTo(value, kind).whole);
}

/** A list of things of a kind; those that are not are left out of it. */
export function listOf(kind) {
  return [kind];
}

/**
 * A kept value as far as it is of a kind: {value, whole}, `whole` telling whether nothing had to be replaced. A kind is
 * an example (a text, a number, true or false, an object whose parts are kinds, a list of one kind, or null for
 * anything at all), or one of those above. Parts that the example does not name stay as they are; those that are
 * missing are as in `fresh`; nothing kept is no fault.
 */
export function fitted(value, kind, ...more) {
  return fittedTo(value, kind, more.length ? more[0] : kind);
}

function fittedTo(value, kind, fresh) {
  if (value === undefined) return { value: fresh, whole: true };
  if (kind === null || kind === undefined) return { value, whole: true };
  if (kind[FITS]) return kind[FITS](value) ? { value, whole: true } : { value: fresh, whole: false };
  if (Array.isArray(kind)) return Array.isArray(value) ? fittedList(value, kind) : { value: fresh, whole: false };
  if (typeof kind === "object")
    return isPlain(value) ? fittedParts(value, kind, fresh) : { value: fresh, whole: false };
  const fits = typeof value === typeof kind && !Number.isNaN(value);
  return { value: fits ? value : fresh, whole: fits };
}

function fittedList(values, [kind]) {
  const found = values.map((value) => fittedTo(value, kind, kind));
  // A thing with a part mended is still that thing.
  const kept = found.filter(({ whole }, i) => whole || (isPlain(values[i]) && !kind[FITS]));
  return { value: kept.map(({ value }) => value), whole: found.every(({ whole }) => whole) };
}

function fittedParts(value, kind, fresh) {
  const parts = Object.keys(kind).map((name) => [name, fittedTo(value[name], kind[name], fresh?.[name])]);
  const named = parts.filter(([, part]) => part.value !== undefined).map(([name, part]) => [name, part.value]);
  return { value: { ...value, ...Object.fromEntries(named) }, whole: parts.every(([, part]) => part.whole) };
}

function isPlain(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
