// The catalogue of wording, and how a code with values becomes a sentence in the reader's language and units.

import { browserLocales, usableLocale } from "./locale.js";
import { withoutCodes } from "./refused.js";
import { bareLength, farInches, sayNumber, withDecimal, written } from "./measure.js";

const PLACE = /\{\{|\}\}|\{(\w+)(?::(\w+))?\}/g;
const FAR = { in: "yd", cm: "m" };

/**
 * Words of one language, in the catalogue's own syntax: DEVELOPERS.md defines it ("The words"), and Python reads it
 * alike (core/matside/words/saying.py).
 */
export class Words {
  /**
   * `tongue` is the locale of the language, for dates, sorting and the voice; in `locale` numbers are written and read,
   * which may be another where the user has chosen a decimal sign.
   */
  constructor(
    catalogue,
    { language = "en", units = "in", tongue = usableLocale(browserLocales()), locale = tongue, aloud = false } = {},
  ) {
    Object.assign(this, { catalogue, language, units, tongue, locale });
    this.isAloud = aloud;
    this.plural = new Intl.PluralRules(language);
  }

  /** The decimal sign: "point", "comma", or "auto" for that of the language. */
  set decimal(sign) {
    this.locale = withDecimal(this.tongue, sign);
  }

  /** The sentence under "subject.code"; a code that is not in the catalogue is a mistake and throws. */
  say(path, values = {}) {
    const found = this.#find(path);
    if (found === undefined) throw new Error(`no words for ${path}`);
    return this.#fill(this.#form(found, values), values);
  }

  /** Whether the catalogue has the sentence. */
  has(path) {
    return this.#find(path) !== undefined;
  }

  /** Whether it has the sentence and every value that the sentence needs is given. */
  fits(path, values = {}) {
    const found = this.#find(path);
    if (found === undefined) return false;
    const needed = this.#form(found, values).matchAll(PLACE);
    return [...needed].every(([, name]) => !name || isGiven(values[name]));
  }

  /** The sentence of a refusal, made from its code and values. */
  refusal(error) {
    const text = this.catalogue.error[error.code];
    return text ? this.#fill(text, withoutCodes(error, this)) : error.message;
  }

  /** Several things in a row: of a "list", or "names" that may have commas in them. */
  list(items, kind = "list") {
    return items.join(this.say(`join.${kind}`));
  }

  /** Sentences one after another, those that are none left out. */
  sentences(...told) {
    return told.flat().filter(Boolean).join(this.say("join.sentences"));
  }

  length(inches) {
    const length = this.bare(inches);
    if (!this.isAloud) return this.say(`unit.${this.units}`, { number: length });
    return this.say(`mat.aloud.${this.units}`, { length, n: Math.abs(inches) > 1 || this.units === "cm" ? 2 : 1 });
  }

  /** The same words as they are spoken: "in" is the word for inches there, which no voice takes for another. */
  get aloud() {
    return new Words(this.catalogue, { ...this, aloud: true });
  }

  /** A long way, in yards or meters, from inches. */
  far(inches) {
    return this.say(`unit.${FAR[this.units]}`, { number: sayNumber(inches / farInches(this.units), this.locale) });
  }

  /** A day and time of day, from ms since 1970. */
  moment(ms) {
    return new Date(ms).toLocaleString(this.tongue, { dateStyle: "medium", timeStyle: "short" });
  }

  /** A length without its unit, as it stands in a field. */
  bare(inches) {
    return bareLength(inches, this.units, this.locale);
  }

  #find(path) {
    return path.split(".").reduce((at, key) => at?.[key], this.catalogue);
  }

  #form(found, values) {
    return isPlural(found) ? (found[this.plural.select(values.n)] ?? found.other) : found;
  }

  #fill(text, values) {
    return text.replace(PLACE, (place, name, as) =>
      name ? this.#shown(values[name], as, name, values) : place.slice(1),
    );
  }

  #shown(value, as, name, values) {
    if (!isGiven(value)) throw new Error(`no value for {${name}}`);
    // A length as it was typed tells its unit.
    if (as === "length") return typeof value === "string" ? written(value) : this.length(value);
    if (as === "far") return this.far(value);
    if (as === "moment") return this.moment(value);
    if (as === "percent") return sayNumber(value * 100, this.locale, 0);
    if (as && as !== "exact") return this.#nested(as, value, values);
    return typeof value === "number" ? sayNumber(value, this.locale, as === "exact" ? 2 : 1) : value;
  }

  /** A message within another: by a code, or, where it has plural forms, by a count. */
  #nested(subject, value, values) {
    const isCounted = isPlural(this.#find(`lie.${subject}`));
    return isCounted
      ? this.say(`lie.${subject}`, { ...values, n: value })
      : this.say(`lie.${subject}.${value}`, values);
  }
}

function isPlural(found) {
  return typeof found?.other === "string";
}

function isGiven(value) {
  return value !== undefined && value !== null;
}
