// Numbers by chance that are the same for the same beginning.

/** {below, pick}: a whole number below a limit, and one of a list (mulberry32). */
export function generator(begin) {
  let state = begin >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  const below = (limit) => Math.floor(next() * limit);
  return { below, pick: (list) => list[below(list.length)] };
}
