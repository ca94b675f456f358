// Writes the second place: files in the origin's private file system, flushed before an answer is given.
//
// page → worker, one answer each
//   {id, begin: {name, lines, longer}}      writes a sitting's file anew; with `longer` only where it has fewer events
//   {id, append: {name, sequence, line}}    adds an event's line; `behind` where the file has not just so many events
//   {id, whole: {content, besides}}         writes the whole store, then removes all sittings' files but those named
//   {id, forget: {name, gone}}              removes a sitting's file, and notes that it is gone
//   {id, here: ids}                         notes that sittings are not gone any more
//   {id, mark: mark}                        notes the mark
// worker → page
//   {id, done: true} | {id, behind: true} | {id, error: {name, message}}
//
// One page writes at a time (Web Locks); a file is open only while it is written, so that a killed page holds nothing.

import { readSitting } from "./spare-lines.js";
import { folder, NOTES, readNotes, WHOLE, wholeOf, wholeText } from "./spare-files.js";

const LOCK = "matside-spare";
const known = new Map(); // file → {size, events}: what this worker left in it

const actions = { begin, append, whole, forget, here, mark };

self.addEventListener("message", ({ data }) => {
  const name = Object.keys(actions).find((each) => each in data);
  const work = () => actions[name](data[name]);
  (navigator.locks ? navigator.locks.request(LOCK, work) : work()).then(
    (found) => self.postMessage({ id: data.id, done: true, ...found }),
    (error) => self.postMessage({ id: data.id, error: { name: error.name, message: String(error.message) } }),
  );
});

async function begin({ name, lines, longer }) {
  const events = lines.length - 1;
  let stays = false;
  await written(
    name,
    (file) => {
      stays = longer && eventsIn(file, name) >= events;
      if (stays) return file.getSize();
      file.truncate(0);
      return write(file, lines.join(""), 0);
    },
    events,
  );
  if (stays) known.delete(name);
}

async function append({ name, sequence, line }) {
  let behind = false;
  await written(
    name,
    (file) => {
      behind = eventsIn(file, name) !== sequence;
      return behind ? file.getSize() : write(file, line, file.getSize());
    },
    sequence + 1,
  );
  if (behind) known.delete(name);
  return { behind };
}

/** How many events a file holds. Another page may have written to it: then it is read. */
function eventsIn(file, name) {
  const size = file.getSize();
  if (known.get(name)?.size === size) return known.get(name).events;
  const bytes = new Uint8Array(size);
  file.read(bytes, { at: 0 });
  const text = new TextDecoder().decode(bytes);
  return text.endsWith("\n") ? readSitting(text)?.events.length : undefined; // after half a line nothing could be read
}

/** The two files are written by turns: the one before stays whole until the next one is. */
async function whole({ content, besides }) {
  const place = await folder();
  const [newest] = await wholeOf(place);
  const text = wholeText((newest?.turn ?? 0) + 1, content);
  await written(
    WHOLE.find((name) => name !== newest?.name),
    (file) => {
      file.truncate(0);
      return write(file, text, 0);
    },
  );
  await note({ gone: [] });
  for await (const name of place.keys()) {
    if (!WHOLE.includes(name) && name !== NOTES && !besides.includes(name)) await place.removeEntry(name);
  }
}

async function forget({ name, gone }) {
  known.delete(name);
  const place = await folder();
  await place.removeEntry(name).catch((error) => {
    if (error.name !== "NotFoundError") throw error;
  });
  const notes = await readNotes(place);
  await note({ gone: [...(notes.gone ?? []), gone] });
}

async function here(ids) {
  const { gone = [] } = await readNotes(await folder());
  const still = gone.filter((id) => !ids.includes(id));
  if (still.length < gone.length) await note({ gone: still });
}

function mark(value) {
  return note({ mark: value });
}

async function note(change) {
  const text = JSON.stringify({ ...(await readNotes(await folder())), ...change });
  await written(NOTES, (file) => {
    file.truncate(0);
    return write(file, text, 0);
  });
}

/** Opens a file, does the writing (which gives the size afterwards), flushes and closes. */
async function written(name, writing, events) {
  const handle = await (await folder()).getFileHandle(name, { create: true });
  const file = await handle.createSyncAccessHandle();
  try {
    const size = writing(file);
    file.flush();
    if (events !== undefined) known.set(name, { size, events });
  } catch (error) {
    known.delete(name);
    throw error;
  } finally {
    file.close();
  }
}

/** Writes all of a text; a place that takes only a part of it is full. Gives where the text ends. */
function write(file, text, at) {
  const bytes = new TextEncoder().encode(text);
  if (file.write(bytes, { at }) < bytes.length) {
    file.truncate(at);
    throw new DOMException("not all of it was taken", "QuotaExceededError");
  }
  return at + bytes.length;
}
