// Starts the page, once the first screen that stands in it is painted: what is fetched and run before that would only keep
// it waiting. What the start needs is named in the page, and asked for a few at a time, not import by import.

import { askForInTime, breath } from "./start/modules.js";

const LONGEST = 1000; // ms; a browser that paints nothing tells nothing

await painted();
await askForInTime("first", breath);
await import("./wiring.js");

/** Resolves when what is built is on the screen; at once where nothing of it is to be seen. */
function painted() {
  if (document.hidden || "used" in document.documentElement.dataset) return null;
  return new Promise((resolve) => {
    requestAnimationFrame?.(() => setTimeout(resolve));
    setTimeout(resolve, LONGEST);
  });
}
