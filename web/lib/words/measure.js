// Lengths as they are shown. The core gives inches; this is the one place that rounds them, and
// it rounds for reading only.

const SIXTEENTHS = 16;
const FINEST = 64; // what lies on a tick as fine as this is shown as it is: a mark is set by it
const CM_PER_INCH = 2.54;
const FAR = { in: ["yd", 36], cm: ["m", 100 / CM_PER_INCH] };

/**
 * "4⅝ in", "2³⁄₁₆ in" or "11.7 cm"; in inches to the nearest sixteenth unless it lies on a finer tick, in
 * centimeters to the millimeter.
 */
export function sayLength(inches, units, locale) {
  return units === "cm" ? `${sayCentimeters(inches, locale)} cm` : `${sayInches(inches)} in`;
}

/** The same without the unit, as it stands in a field. */
export function bareLength(inches, units, locale) {
  return units === "cm" ? sayCentimeters(inches, locale) : sayInches(inches);
}

/** A long way in yards or meters, such as what a blade has cut. */
export function sayFar(inches, units, locale) {
  return `${sayNumber(inches / farInches(units), locale)} ${FAR[units][0]}`;
}

/** The inches of the unit in which a long way is told. */
export function farInches(units) {
  return FAR[units][1];
}

/** A number with at most `digits` decimals, in the locale's own writing. */
export function sayNumber(number, locale, digits = 1) {
  return writer(locale, { maximumFractionDigits: digits }).format(number);
}

const writers = new Map();

/** Making a writer of numbers takes far longer than writing one, so each is made once. */
function writer(locale, how) {
  const name = `${locale} ${JSON.stringify(how)}`;
  if (!writers.has(name)) writers.set(name, new Intl.NumberFormat(locale, how));
  return writers.get(name);
}

function sayCentimeters(inches, locale) {
  return fieldNumber(inches * CM_PER_INCH, locale, 1);
}

/** A number as it stands in a field: with no sign but the decimal one, which is the locale's. */
export function fieldNumber(number, locale, digits = 2) {
  return writer(locale, { maximumFractionDigits: digits, useGrouping: false }).format(number);
}

function sayInches(inches) {
  const bottom = Number.isInteger(inches * FINEST) ? FINEST : SIXTEENTHS;
  const parts = Math.round(Math.abs(inches) * bottom);
  const sign = inches < 0 && parts ? "−" : "";
  const whole = Math.floor(parts / bottom);
  const part = fraction(parts % bottom, bottom);
  return sign + (whole || !part ? whole : "") + part;
}

function fraction(top, bottom) {
  if (!top) return "";
  while (top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  return figures(top, bottom);
}

// Characters of their own for the fractions that rulers are read in, and for the thirds that cloth is sold in.
const WHOLE = {
  "1/2": "½",
  "1/3": "⅓",
  "2/3": "⅔",
  "1/4": "¼",
  "3/4": "¾",
  "1/8": "⅛",
  "3/8": "⅜",
  "5/8": "⅝",
  "7/8": "⅞",
};
const OVER = "⁰¹²³⁴⁵⁶⁷⁸⁹";
const UNDER = "₀₁₂₃₄₅₆₇₈₉";
const SMALL = /[²³¹⁰⁴-⁹₀-₉]/gu;
const VULGAR = "¼-¾⅐-⅞";

/** A fraction as people write it: ½ or ³⁄₁₆. */
function figures(top, bottom) {
  const small = (number, digits) => [...String(number)].map((digit) => digits[digit]).join("");
  return WHOLE[`${top}/${bottom}`] ?? `${small(top, OVER)}⁄${small(bottom, UNDER)}`;
}

const TYPED_FRACTION = /(?:(\d)(?: +| *- *| +and +))?(?<![\d./⁄])(\d{1,4}) ?[/⁄] ?([1-9]\d{0,3})(?![\d./⁄])/g;

/** A typed length with its fractions as people write them, whichever way they were typed: "4 1/2 in" is "4½ in". */
export function written(text) {
  return text.replace(TYPED_FRACTION, (_, whole = "", top, bottom) => whole + figures(top, bottom));
}

/** A text with its fractions in plain digits, "3 1/2": the same whichever way they were written. */
export function plainDigits(text) {
  const plain = Object.fromEntries(Object.entries(WHOLE).map(([typed, sign]) => [sign, typed]));
  return text
    .replace(/(\d)(?=[¼-¾⅐-⅞]|[⁰¹²³⁴-⁹]+⁄)/gu, "$1 ")
    .replace(/[¼-¾⅐-⅞]/gu, (sign) => plain[sign] ?? sign)
    .replace(SMALL, (digit) => Math.max(OVER.indexOf(digit), UNDER.indexOf(digit)))
    .replaceAll("⁄", "/");
}

/**
 * A sentence as it is to be spoken: voices differ in what they make of small figures, and all know "3 1/2"; a minus that
 * some pass over is a hyphen.
 */
export function forSpeech(text) {
  return plainDigits(text).replaceAll("−", "-");
}

/**
 * What was typed, as the core reads it: the locale's decimal sign becomes a point, and a unit is added where none was
 * written. Whether it is a length at all is for the core to say.
 */
export function typedLength(text, unit, locale) {
  return withUnit(typedNumber(text, locale), unit);
}

const BARE = new RegExp(`[\\d.₀-₉${VULGAR}]\\s*$`, "u");

/** A typed length with the unit that it was meant in, where none was written. */
export function withUnit(text, unit) {
  return BARE.test(text) ? `${text.trim()} ${unit}` : text;
}

/**
 * The unit in which a side of a kind of cloth is typed: yardage by the yard (or the meter) for its
 * length, whatever the rest is in.
 */
export function sideUnit(side, { unit }, units) {
  return side === "length" && ["yd", "m"].includes(unit) ? unit : units;
}

/** A side that a kind of cloth has of itself, as it would be typed; nothing where it has none. */
export function ownSide(side, kind, { units, locale }) {
  if (kind[side] === null) return "";
  const unit = sideUnit(side, kind, units);
  if (unit === "yd") return sayInches(kind[side] / FAR.in[1]);
  return unit === "m" ? fieldNumber(kind[side] / FAR.cm[1], locale) : bareLength(kind[side], unit, locale);
}

/** The sides of a kind of cloth that are typed in the usual units. */
export function sidesInUnits(kind, units) {
  return ["length", "width"].filter((side) => sideUnit(side, kind, units) === units);
}

/** What was typed as a plain number, such as an angle: the locale's decimal sign becomes a point. */
export function typedNumber(text, locale) {
  return decimalSign(locale) === "," ? text.replace(/(\d),(\d)/g, "$1.$2") : text;
}

const DECIMAL = /^(\s*\d*)\.(\d+\s*[a-z"]*\s*)$/i;

/** A typed number with the decimal sign that is read here: what was there before anybody typed has a point. */
export function signed(text, locale) {
  return decimalSign(locale) === "," ? text.replace(DECIMAL, "$1,$2") : text;
}

/** A locale in which numbers have a decimal sign: `locale` itself where it has it, or where any will do ("auto"). */
export function withDecimal(locale, sign) {
  const wanted = { point: ".", comma: "," }[sign];
  if (!wanted || decimalSign(locale) === wanted) return locale;
  return wanted === "." ? "en" : "de";
}

function decimalSign(locale) {
  return writer(locale, {})
    .formatToParts(1.5)
    .find((part) => part.type === "decimal").value;
}
