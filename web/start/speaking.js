// Another language: its words are fetched first, and only when they are here the choice is kept and the page loaded anew.

import { chooseLanguage, deviceLanguage } from "../lib/words/language.js";
import { fetchLanguage } from "./first.js";

/**
 * Gives `speak(language, begun)`, null standing for the device's: it loads the page anew, or resolves to what kept it
 * from that, {code, language}, where `code` has words under "tools.language".
 */
export function speaker(settings) {
  return async (choice, begun) => {
    const language = choice ?? deviceLanguage();
    begun(language);
    if (!(await fetchLanguage(language))) return { code: "lacking", language };
    if (!chooseLanguage(choice)) return { code: "unkept", language };
    await settings.set({ language: choice }).catch(() => {}); // what is loaded goes by the first
    location.reload();
    return { code: "fetching", language };
  };
}
