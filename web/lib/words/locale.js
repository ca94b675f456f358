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

function known(name) {
  const tag = String(name ?? "")
    .split(/[.@]/)[0]
    .replaceAll("_", "-");
  try {
    const [found] = Intl.NumberFormat.supportedLocalesOf(tag);
    return found && inDigits(found);
  } catch {
    return null;
  }
}

/** A locale with the digits 0 to 9. */
function inDigits(locale) {
  const { numberingSystem } = new Intl.NumberFormat(locale).resolvedOptions();
  return numberingSystem === "latn" ? locale : new Intl.Locale(locale, { numberingSystem: "latn" }).toString();
}
