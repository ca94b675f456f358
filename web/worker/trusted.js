// The page's policy lets a browser that knows Trusted Types run no script whose address is a mere text. This is
// the one place where the address of a worker's script becomes a trusted one; others take the text itself.
// Nothing makes markup of a text.

const policy = made();

/** The address of a script of our own, below the page's folder; anything else is refused with a TypeError. */
export function trustedScript(url) {
  return policy ? policy.createScriptURL(String(url)) : createScriptURL(String(url));
}

function createScriptURL(url) {
  const { href, search, hash } = new URL(url, document.baseURI);
  const ours = href.startsWith(new URL("./", document.baseURI).href) && href.endsWith(".js") && !search && !hash;
  if (!ours) throw new TypeError(`no script of this page: ${url}`);
  return href;
}

/** Null where the browser has none, or makes none: then it takes the text, or starts no worker. */
function made() {
  try {
    return globalThis.trustedTypes?.createPolicy("matside", { createScriptURL }) ?? null;
  } catch {
    return null;
  }
}
