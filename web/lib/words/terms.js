// The trade's words in a text: which of them it uses.

/** The codes of the glossary's terms that a text uses, in the order in which they come; the longest word wins. */
export function termsIn(text, terms) {
  const found = Object.entries(terms).map(([code, { match }]) => ({
    code,
    place: text.search(new RegExp(`\\b(?:${match})\\b`, "iu")),
  }));
  return found
    .filter(({ place }) => place >= 0)
    .sort((a, b) => a.place - b.place)
    .map(({ code }) => code);
}
