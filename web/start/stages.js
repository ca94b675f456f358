// The start in named stages. Which ones are not over can be read from the document, by the script that watches the
// start (web/start/watch.js) too; what a stage lasts too long for, or fails at, is replaced.

const LONGEST = 4000; // ms for what the page can do without
const open = new Set();

/** Work that nothing can replace; its error says at which stage it came. */
export async function needed(name, work) {
  try {
    return await staged(name, work);
  } catch (error) {
    throw Object.assign(error instanceof Error ? error : new Error(String(error)), { stage: name });
  }
}

/**
 * Work that the page can do without: where it fails or lasts too long, `failed(error)` is called and
 * gives what takes its place.
 */
export async function spared(name, work, failed = () => null, longest = LONGEST) {
  try {
    return await staged(name, () => inTime(work(), longest));
  } catch (error) {
    return failed(error);
  }
}

/** The first screen is there: the start is over, whatever is still being fetched. */
export function shown() {
  open.clear();
  document.documentElement.dataset.start = "shown";
  // It may have been said that it takes long, or that nothing comes of it: some engines tell that of a start that goes on.
  document.getElementById("start-broken")?.remove();
  const page = document.getElementById("page");
  if (page) page.hidden = false;
}

async function staged(name, work) {
  open.add(name);
  tell();
  try {
    return await work();
  } finally {
    open.delete(name);
    tell();
  }
}

function tell() {
  const { dataset } = document.documentElement;
  if (dataset.start !== "shown") dataset.start = [...open].join(" ");
}

function inTime(promise, longest) {
  return new Promise((resolve, reject) => {
    const late = setTimeout(() => reject(new Error(`not over after ${longest / 1000} s`)), longest);
    Promise.resolve(promise)
      .then(resolve, reject)
      .finally(() => clearTimeout(late));
  });
}
