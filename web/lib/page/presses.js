// A press counts, though the screen is drawn anew in the middle of it: an answer comes, or a
// search tells how far it is. And it counts, though the finger rests on it: some browsers give no click for that, and
// slow hands would lose a cut.
//
// A browser gives a click to what both ends of a press have in common. A button that was replaced meanwhile (refill, in
// dom.js), or between the lifting of a finger and its click, is not that; some browsers look again where a finger was
// lifted, some do not. So where the same button (data-key) stands under the end of the press and no click comes, it is
// clicked here.

const PRESSED = ["button", "a", "summary", "label", "input[type=checkbox]", "input[type=radio]"].join();
const OWN = 100; // ms within which a browser's own click has come; it follows a finger later than a mouse
const LATE = 500; // ms within which a browser's own click after one given here is the same press
const STILL = 24; // px that a finger moves at most while it presses

let pressed = null; // {button, x, y}; null where nothing is pressed, or two fingers are down

/** Watches presses in all of the document, from now on; a button may be `held` already. */
export function watchPresses(held = null) {
  if (held) pressed = { button: held, x: 0, y: 0 };
  document.addEventListener("pointerdown", (event) => press(event.isPrimary && event.button === 0 && event), true);
  document.addEventListener("pointerup", (event) => release(underneath(event), event), true);
  document.addEventListener("pointercancel", () => press(null), true);
  // Enter clicks as it goes down.
  document.addEventListener("keydown", (event) => event.key === " " && press(event), true);
  document.addEventListener("keyup", (event) => event.key === " " && release(event.target, event), true);
}

function press(event) {
  pressed = event ? { button: buttonOf(event.target), x: event.clientX, y: event.clientY } : null;
}

function release(target, event) {
  const [before, now] = [pressed, buttonOf(target)];
  pressed = null;
  if (!before?.button || !now) return;
  if (before.button.isConnected ? now === before.button && stayed(before, event) : keyOf(before.button) === keyOf(now))
    clickUnlessClicked(now);
}

function underneath({ clientX, clientY }) {
  return document.elementFromPoint(clientX, clientY);
}

/** Whether it was a finger, and it has stayed where it was: a mouse's click comes at once. */
function stayed({ x, y }, { pointerType, clientX, clientY }) {
  const byHand = pointerType === "touch" || pointerType === "pen";
  return byHand && Math.hypot(clientX - x, clientY - y) <= STILL;
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
  if (!key) return;
  const heard = ({ target }) => keyOf(buttonOf(target)) === key && settled();
  const late = setTimeout(() => {
    settled();
    // Drawn anew once more.
    const standing = button.isConnected ? button : document.querySelector(`[data-key="${CSS.escape(key)}"]`);
    standing?.click();
    passOver(key);
  }, OWN);
  const settled = () => {
    clearTimeout(late);
    document.removeEventListener("click", heard, true);
  };
  document.addEventListener("click", heard, true);
}

/** A browser that is slow to give its own click gives none any more; the press after it has its own. */
function passOver(key) {
  const over = new AbortController();
  const until = { capture: true, signal: over.signal };
  const end = () => over.abort();
  document.addEventListener("click", (event) => dropOwn(event, key), until);
  for (const next of ["pointerdown", "keydown"]) document.addEventListener(next, end, until);
  setTimeout(end, LATE);
}

function dropOwn(event, key) {
  if (!event.isTrusted || keyOf(buttonOf(event.target)) !== key) return;
  event.stopPropagation();
  event.preventDefault();
}
