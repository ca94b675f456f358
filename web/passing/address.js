// The address by which a plan is opened, and what is read from one that was scanned, pasted or typed.

const PLACE = "#plan/";
// What an address of a plan ends in, whichever page it leads to: a reader looks at nothing else of it.
const IN_ADDRESS = /#plan\/([\w-]+)\s*$/;

/** The public address of this page, as the build was told it; null where it was told none. */
export function publicAddress(root = document) {
  return root.querySelector('meta[name="matside-public"]')?.content || null;
}

/** What a code says for a packed text: an address where a public one is known, else the text alone. */
export function saidFor(text, address = publicAddress()) {
  return address ? address + PLACE + text : text;
}

/** The packed text in what was read; the whole of it where it is no address. */
export function textIn(said) {
  return IN_ADDRESS.exec(said)?.[1] ?? said.trim();
}
