// What the phone's back button and Escape close: the part of a page that was opened last, before the page itself is left.

/**
 * Calls `close` when the user asks to go back while a part is open. Returns what ends that.
 *
 * Browsers without close watchers know Escape only; their back button leads to the page before.
 */
export function whenAskedToClose(close) {
  if (!globalThis.CloseWatcher) return byEscape(close);
  const watcher = new CloseWatcher();
  watcher.addEventListener("close", close);
  return () => watcher.destroy();
}

function byEscape(close) {
  const pressed = ({ key }) => key === "Escape" && close();
  document.addEventListener("keydown", pressed);
  return () => document.removeEventListener("keydown", pressed);
}
