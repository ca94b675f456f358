// What a refusal names by the core's codes, in words: the page's reader knows none of those.

const MEASURE = (code) => `page.measure.${code}.short`;
const NAMED = {
  measures_too_many: { first: MEASURE, second: MEASURE },
  quilt_size_twice: { other: (code) => `quilt_screen.by_${code}` },
};
const SEVERAL = ", "; // how the core tells several codes

/** The values of a refusal with words for the codes among them, where there are any. */
export function withoutCodes({ code, field, values = {} }, words) {
  const part = String(field).split(".").at(-1);
  const chosen = (choice) => `quilt.${part}.${choice}`;
  const named = NAMED[code] ?? ("choices" in values ? { given: chosen, choices: chosen } : {});
  const told = Object.entries(named).map(([name, path]) => [name, worded(String(values[name]), path, words)]);
  return { ...values, ...Object.fromEntries(told) };
}

function worded(codes, path, words) {
  return words.list(codes.split(SEVERAL).map((code) => (words.has(path(code)) ? words.say(path(code)) : code)));
}
