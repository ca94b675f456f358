// Keys and pedals: a pedal is a keyboard with two or three keys. Any key can be learnt for any act.

export const ACTS = ["cut", "undo", "spoiled", "repeat", "closer"];

export const DEFAULT_KEYS = Object.freeze({
  cut: ["PageDown", "ArrowRight", "Enter", "F13"],
  undo: ["PageUp", "ArrowLeft"],
  spoiled: ["F14"],
  repeat: ["F15"],
  closer: ["ArrowUp"],
});

/** Whether a key is one character: such keys act only when the user has switched them on (WCAG 2.1.4). */
export function isCharacter(key) {
  return [...key].length === 1;
}

/** The act that a key is learnt for, or null. */
export function actOf(key, { keys, letters }) {
  if (isCharacter(key) && !letters) return null;
  return ACTS.find((act) => keys[act]?.includes(key)) ?? null;
}

/** The keys with `key` learnt for `act` and for nothing else. */
export function learnt(keys, act, key) {
  const without = Object.fromEntries(ACTS.map((each) => [each, (keys[each] ?? []).filter((held) => held !== key)]));
  return { ...without, [act]: [...without[act], key] };
}

/**
 * Listens to keys while the guide is up and calls `take(act)`. A held key counts once; keys with Ctrl, Alt or Meta, keys
 * typed into a field and keys in an open dialog are left alone. Returns the function that stops listening.
 */
export function listenToKeys(settings, take) {
  const heard = (event) => {
    if (event.repeat || event.ctrlKey || event.altKey || event.metaKey || isBusy(event.target)) return;
    const act = actOf(event.key, settings());
    if (!act) return;
    event.preventDefault();
    take(act);
  };
  addEventListener("keydown", heard);
  return () => removeEventListener("keydown", heard);
}

function isBusy(target) {
  const own = target instanceof Element;
  return own && (target.closest("dialog, input, textarea, select") || (target.closest("button") && !target.closest(".mat-zone")));
}
