// The trade's words in a text: which of them it uses.

/**
 * The codes of the glossary's terms that a text uses, in the order in which they come. Where one lies within a
 * longer one, as "diamond" in "half-diamond", the longer one is meant.
 */
export function termsIn(text, terms) {
  const found = Object.entries(terms).flatMap(([code, { match }]) => places(text, match, code));
  const meant = found.filter((one) => !found.some((other) => isWithin(one, other)));
  meant.sort((one, other) => one.from - other.from);
  return [...new Set(meant.map(({ code }) => code))];
}

function places(text, match, code) {
  const found = text.matchAll(new RegExp(`\\b(?:${match})\\b`, "giu"));
  return [...found].map(({ index, 0: { length } }) => ({ code, from: index, to: index + length }));
}

function isWithin(one, other) {
  return other.from <= one.from && other.to >= one.to && other.to - other.from > one.to - one.from;
}
