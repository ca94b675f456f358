// Lengths as they are shown. The core gives inches; this is the one place that rounds them, and
// it rounds for reading only.

const SIXTEENTHS = 16;
const FINEST = 64; // what lies on a tick as fine as this is shown as it is: a mark is set by it
const CM_PER_INCH = 2.54;
const FAR = { in: ["yd", 36], cm: ["m", 100 / CM_PER_INCH] };

/**
 * "4 5/8 in" or "11.7 cm"; in inches to the nearest sixteenth unless it lies on a finer tick, in
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
  return writer(locale, { maximumFractionDigits: 1, useGrouping: false }).format(inches * CM_PER_INCH);
}

function sayInches(inches) {
  const bottom = Number.isInteger(inches * FINEST) ? FINEST : SIXTEENTHS;
  const parts = Math.round(Math.abs(inches) * bottom);
  const sign = inches < 0 && parts ? "−" : "";
  const whole = Math.floor(parts / bottom);
  const part = fraction(parts % bottom, bottom);
  return sign + (whole && part ? `${whole} ${part}` : part || String(whole));
}

function fraction(top, bottom) {
  if (!top) return "";
  while (top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  return `${top}/${bottom}`;
}

/**
 * What was typed, as the core reads it: the locale's decimal sign becomes a point, and a unit is added where none was
 * written. Whether it is a length at all is for the core to say.
 */
export function typedLength(text, unit, locale) {
  return withUnit(typedNumber(text, locale), unit);
}

/** A typed length with the unit that it was meant in, where none was written. */
export function withUnit(text, unit) {
  return /[\d.¼½¾⅛⅜⅝⅞⅓⅔]\s*$/.test(text) ? `${text.trim()} ${unit}` : text;
}

/**
 * The unit in which a side of a kind of cloth is typed: yardage by the yard (or the meter) for its
 * length, whatever the rest is in.
 */
export function sideUnit(side, { unit }, units) {
  return side === "length" && ["yd", "m"].includes(unit) ? unit : units;
}

/** The sides of a kind of cloth that are typed in the usual units. */
export function sidesInUnits(kind, units) {
  return ["length", "width"].filter((side) => sideUnit(side, kind, units) === units);
}

/** What was typed as a plain number, such as an angle: the locale's decimal sign becomes a point. */
export function typedNumber(text, locale) {
  return decimalSign(locale) === "," ? text.replace(/(\d),(\d)/g, "$1.$2") : text;
}

function decimalSign(locale) {
  return writer(locale, {})
    .formatToParts(1.5)
    .find((part) => part.type === "decimal").value;
}
