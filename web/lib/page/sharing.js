// Giving something to the device: its share sheet where there is one, else a download, and the clipboard.

import { h } from "./dom.js";

/** Saves a file to where this browser saves files. */
export function download(file) {
  const link = h("a", { href: URL.createObjectURL(file), download: file.name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

/** Whether the device shares a file of that kind by a sheet of its own. */
export function canShare(file) {
  return Boolean(navigator.canShare?.({ files: [file] }));
}

/** Opens the share sheet for a file, or saves it where there is none; "shared", "saved", or "left" where it was closed. */
export async function shareOrSave(file) {
  if (!canShare(file)) {
    download(file);
    return "saved";
  }
  try {
    await navigator.share({ files: [file], title: file.name });
    return "shared";
  } catch (error) {
    if (error.name === "AbortError") return "left";
    download(file);
    return "saved";
  }
}

/** Puts a text on the clipboard; false where this browser does not allow it. */
export async function copied(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}
