// The trade's words in a text: which of them it uses.

const LETTER = "[\\p{L}\\p{N}]";
const UNSPACED = ["ja"]; // languages that are written without spaces between words

/**
 * The codes of the glossary's terms that a text uses, in the order in which they come. Where one lies within a
 * longer one, as "diamond" in "half-diamond", the longer one is meant.
 */
export function termsIn(text, terms, language = "en") {
  const found = Object.entries(terms).flatMap(([code, { match }]) =>
    places(text, pattern(match, language)).map((place) => ({ code, ...place })),
  );
  const meant = found.filter((one) => !found.some((other) => isWithin(one, other)));
  meant.sort((one, other) => one.from - other.from);
  return [...new Set(meant.map(({ code }) => code))];
}

/** What comes before a term is a part of the pattern: not every browser can look back. */
function pattern(match, language) {
  const whole = UNSPACED.includes(language) ? `()(${match})` : `(^|(?!${LETTER}).)(${match})(?!${LETTER})`;
  return new RegExp(whole, "gisu");
}

function places(text, expression) {
  const found = text.matchAll(expression);
  return [...found].map(({ index, 1: before, 2: { length } }) => {
    const from = index + before.length;
    return { from, to: from + length };
  });
}

function isWithin(one, other) {
  return other.from <= one.from && other.to >= one.to && other.to - other.from > one.to - one.from;
}
