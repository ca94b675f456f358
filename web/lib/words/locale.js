// The locale in which numbers and times are written. What a system or a browser calls its language may be anything.

/**
 * The first of some names of languages that can be used here, else English: "de_DE.UTF-8" is de-DE; "C", "", undefined
 * and what no browser knows are passed over. Digits are always those that fields are typed in.
 */
export function usableLocale(...names) {
  return names.flat().map(known).find(Boolean) ?? "en";
}

/** What the browser says of its user's languages, the best first. */
export function browserLocales() {
  try {
    return [navigator.language, ...(navigator.languages ?? [])];
  } catch {
    return [];
  }
}

/** The locale of a language: the device's own where it is one of that language, else the language itself. */
export function localeOf(language, names = browserLocales()) {
  return usableLocale(
    names.filter((name) => languageIn(name) === language),
    language,
  );
}

// Where quilters work in inches: common practice, no published source.
const IN_INCHES = ["US", "CA", "GB", "IE", "AU", "NZ"];

/** The units of a first visit: inches where the device's language is English or none, or its region one of those above. */
export function usualUnits([name] = browserLocales()) {
  const inInches = languageIn(name) === "en" || IN_INCHES.includes(regionIn(name));
  return inInches || !known(name) ? "in" : "cm";
}

// Where paper is of the size "US-Letter", by the Unicode CLDR's supplemental data (measurementData, paperSize).
const ON_LETTER = "BZ CA CL CO CR GT MX NI PA PH PR SV US VE".split(" ");

/** The paper that is usual where the device is, "a4" or "letter"; letter for an English of no region. */
export function usualPaper([name] = browserLocales()) {
  const region = regionIn(name);
  return (region ? ON_LETTER.includes(region) : languageIn(name) === "en") ? "letter" : "a4";
}

function languageIn(name) {
  return tagOf(name).split("-")[0].toLowerCase() || "en";
}

function regionIn(name) {
  return /-([A-Z]{2})\b/i.exec(tagOf(name))?.[1].toUpperCase();
}

function known(name) {
  try {
    const [found] = Intl.NumberFormat.supportedLocalesOf(tagOf(name));
    return found && inDigits(found);
  } catch {
    return null;
  }
}

/** "de_DE.UTF-8" is de-DE; what is no name of a language is none. */
function tagOf(name) {
  return String(name ?? "")
    .split(/[.@]/)[0]
    .replaceAll("_", "-");
}

/** A locale with the digits 0 to 9. */
function inDigits(locale) {
  const { numberingSystem } = new Intl.NumberFormat(locale).resolvedOptions();
  return numberingSystem === "latn" ? locale : new Intl.Locale(locale, { numberingSystem: "latn" }).toString();
}
