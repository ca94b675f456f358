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
 * Listens to keys while the guide is up and calls `take(act)`. A held key counts once; keys with Ctrl, Alt or Meta,
 * keys typed into a field and keys in an open dialog are left alone. A button that was reached by keyboard is
 * pressed by Enter and Space, as any button; one that was tapped is not: there Enter is the pedal's. Returns the
 * function that stops listening.
 */
export function listenToKeys(settings, take) {
  let tapped = null;
  const pointed = ({ target }) => (tapped = buttonOf(target));
  const heard = (event) => {
    if (event.key === "Tab") tapped = null; // from here on the focus goes by keyboard
    const act = isFree(event) ? actOf(event.key, settings()) : null;
    if (!act || isPressing(event, tapped)) return;
    event.preventDefault();
    take(act);
  };
  addEventListener("pointerdown", pointed, true);
  addEventListener("keydown", heard);
  return () => {
    removeEventListener("pointerdown", pointed, true);
    removeEventListener("keydown", heard);
  };
}

function isFree({ repeat, ctrlKey, altKey, metaKey, target }) {
  return (
    !repeat &&
    !ctrlKey &&
    !altKey &&
    !metaKey &&
    !(target instanceof Element && target.closest("dialog, input, textarea, select"))
  );
}

/** Whether a key presses the button that has the focus, as it does where the focus came by keyboard. */
function isPressing({ key, target }, tapped) {
  const button = buttonOf(target);
  return (
    ["Enter", " "].includes(key) &&
    button &&
    !button.matches(".mat-zone") &&
    button !== tapped &&
    button.matches(":focus-visible")
  );
}

function buttonOf(target) {
  return target instanceof Element ? target.closest("button, a") : null;
}
