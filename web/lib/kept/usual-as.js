// What a kept state is filled up from where an older page kept less of it, or where it was damaged.

/**
 * Of what is `usual` by units, that of the units which a `kept` state was typed in; what is usual `now` where none was
 * kept, and `before` where it does not tell its units.
 */
export function usualAs(kept, usual, now, before = now) {
  if (!kept) return now;
  return Object.hasOwn(usual, kept.units) ? usual[kept.units] : before;
}
