// Which languages there are, which one the page speaks, and how the choice is kept where it can be read before anything.
// What the device asks for is found by web/start/early.js, which comes first.

const KEPT = "matside-language";

/** What each language calls itself. */
export const OWN_NAMES = Object.freeze({
  en: "English",
  es: "Español",
  de: "Deutsch",
  fr: "Français",
  ja: "日本語",
});

/** The language to load. */
export function wantedLanguage() {
  return known(globalThis.matsideLanguage?.wanted);
}

/** The language that the device asks for. */
export function deviceLanguage() {
  return known(globalThis.matsideLanguage?.device);
}

function known(language) {
  return Object.hasOwn(OWN_NAMES, language ?? "") ? language : "en";
}

/** The language that was chosen on this device; null where the page follows the device. */
export function chosenLanguage() {
  try {
    return localStorage.getItem(KEPT) ?? null;
  } catch {
    return null;
  }
}

/** Keeps a choice, or drops it; whether that could be done. */
export function chooseLanguage(language) {
  try {
    if (language) localStorage.setItem(KEPT, language);
    else localStorage.removeItem(KEPT);
    return true;
  } catch {
    return false;
  }
}
