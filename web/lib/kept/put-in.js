// A value put deep into a state, without changing the state that was there.

/** The same as `state` with `value` at `path`, a list of keys and places. */
export function putIn(state, [key, ...rest], value) {
  const copy = Array.isArray(state) ? [...state] : { ...state };
  copy[key] = rest.length ? putIn(state[key], rest, value) : value;
  return copy;
}
