// A press counts, though the screen is drawn anew in the middle of it: an answer comes, or a
// search tells how far it is.
//
// A browser gives a click to what both ends of a press have in common. A button that was replaced meanwhile (refill, in
// dom.js) is not that; some browsers look again where a finger was lifted, some do not. So where the same button
// (data-key) stands under the end of the press and no click comes, it is clicked here.

const PRESSED = ["button", "a", "summary", "label", "input[type=checkbox]", "input[type=radio]"].join();
const OWN = 100; // ms within which a browser's own click has come; it follows a finger later than a mouse

let pressed = null;

/** Watches presses in all of the document, from now on. */
export function watchPresses() {
  document.addEventListener(
    "pointerdown",
    ({ target, isPrimary, button }) => press(isPrimary && button === 0 ? target : null),
    true,
  );
  document.addEventListener(
    "pointerup",
    ({ clientX, clientY }) => release(document.elementFromPoint(clientX, clientY)),
    true,
  );
  document.addEventListener("pointercancel", () => press(null), true);
  // Enter clicks as it goes down.
  document.addEventListener("keydown", ({ target, key }) => key === " " && press(target), true);
  document.addEventListener("keyup", ({ target, key }) => key === " " && release(target), true);
}

function press(target) {
  pressed = buttonOf(target);
}

function release(target) {
  const [before, now] = [pressed, buttonOf(target)];
  pressed = null;
  if (before && !before.isConnected && keyOf(before) && keyOf(now) === keyOf(before)) clickUnlessClicked(now);
}

function buttonOf(target) {
  return target?.closest?.(PRESSED) ?? null;
}

/** A label goes by the key of what it labels. */
function keyOf(button) {
  return button?.dataset.key ?? button?.control?.dataset.key;
}

function clickUnlessClicked(button) {
  const key = keyOf(button);
  const heard = ({ target }) => keyOf(buttonOf(target)) === key && settled();
  const late = setTimeout(() => {
    settled();
    // Drawn anew once more.
    const standing = button.isConnected ? button : document.querySelector(`[data-key="${CSS.escape(key)}"]`);
    standing?.click();
  }, OWN);
  const settled = () => {
    clearTimeout(late);
    document.removeEventListener("click", heard, true);
  };
  document.addEventListener("click", heard, true);
}
