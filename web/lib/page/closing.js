// What the phone's back button and Escape close: the part of a page that was opened last, before the page itself is left.
//
// A browser with close watchers knows this by itself. In one without, an entry of the history stands for what is open:
// back leaves that entry, and closes. An entry whose part was closed otherwise stays until it is left, which then goes
// one further; to go back at once might undo what was gone on to meanwhile.

const MARK = "open"; // in the state of such an entry

/** Calls `close` when the user asks to go back while a part is open. Returns what ends that. */
export function whenAskedToClose(close) {
  if (globalThis.CloseWatcher) return byWatcher(close);
  const part = { close, isThere: () => true };
  const pressed = (event) => {
    if (event.key !== "Escape" || event.defaultPrevented || top() !== part) return;
    event.preventDefault();
    close();
  };
  document.addEventListener("keydown", pressed);
  const end = byHistory(part);
  return () => {
    document.removeEventListener("keydown", pressed);
    end();
  };
}

/** Opens a dialog over the page, if it is not open; back and Escape close it. */
export function openOver(dialog) {
  if (dialog.open) return;
  dialog.showModal();
  if (globalThis.CloseWatcher) return;
  const close = () => dialog.dispatchEvent(new Event("cancel", { cancelable: true })) && dialog.close();
  dialog.addEventListener("close", byHistory({ close, isThere: () => dialog.open && dialog.isConnected }), {
    once: true,
  });
}

function byWatcher(close) {
  const watcher = new CloseWatcher();
  watcher.addEventListener("close", close);
  return () => watcher.destroy();
}

const opened = []; // {close, isThere}, the last on top
let marked = ""; // the address of the marked entry that is stood on

function byHistory(part) {
  if (!opened.length) addEventListener("popstate", wentBack);
  opened.push(part);
  mark();
  return () => {
    const place = opened.indexOf(part);
    if (place >= 0) opened.splice(place, 1);
  };
}

function mark() {
  try {
    if (!history.state?.[MARK]) history.pushState({ [MARK]: true }, "");
    marked = location.href;
  } catch {
    // Back then leads to the page before.
  }
}

function wentBack() {
  const hasLeft = marked === location.href && !history.state?.[MARK];
  marked = history.state?.[MARK] ? location.href : "";
  if (!hasLeft) return;
  if (!top()) return history.back();
  top().close();
  if (top()) mark();
}

function top() {
  return opened.findLast(({ isThere }) => isThere());
}
