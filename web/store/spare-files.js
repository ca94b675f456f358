// The files of the second place, and reading them. Only the worker writes.

import { readSitting } from "./spare-lines.js";

const FOLDER = "matside";
const ENDING = ".sitting";

/** The whole store stands in one of two files, written by turns. */
export const WHOLE = ["whole-0.json", "whole-1.json"];
/** The mark, and which sittings were removed since the whole store was written. */
export const NOTES = "notes.json";

const INDEX = 1 << 18; // bytes within which the first line of a whole store ends

/** The folder of the second place. */
export async function folder() {
  return (await navigator.storage.getDirectory()).getDirectoryHandle(FOLDER, { create: true });
}

/** The name of a sitting's file. */
export function fileOf(id) {
  return `${id.replace(/[^\w-]/g, "_")}${ENDING}`;
}

/**
 * All that stands there: {mark, sittings, whole}; `whole` is an index {turn, lengths, read}, null when there is none.
 */
export async function readAll() {
  const place = await folder();
  const [notes, [whole], sittings] = await Promise.all([readNotes(place), wholeOf(place), sittingsOf(place)]);
  const gone = new Set(notes.gone ?? []);
  return { mark: notes.mark, gone, whole: whole ?? null, sittings: sittings.filter(({ id }) => !gone.has(id)) };
}

/** The notes, empty where there are none that can be read. */
export async function readNotes(place) {
  const file = await fileAt(place, NOTES);
  return parsed(file ? await file.text() : "") ?? {};
}

/** The whole stores that were written to their end, the newest first: {name, turn, lengths, read}. */
export async function wholeOf(place) {
  const found = await Promise.all(WHOLE.map((name) => indexOf(place, name)));
  return found.filter(Boolean).sort((a, b) => b.turn - a.turn);
}

/** The text of a whole store: a line that says what it holds, and how long the rest is; then the rest. */
export function wholeText(turn, { values, sittings }) {
  const body = JSON.stringify({ values, sittings });
  const lengths = sittings.map(({ id, events }) => [id, events.length]);
  return `${JSON.stringify({ format: 1, turn, lengths, bytes: new TextEncoder().encode(body).length })}\n${body}`;
}

async function indexOf(place, name) {
  const file = await fileAt(place, name);
  if (!file) return null;
  const [line, rest] = (await file.slice(0, INDEX).text()).split("\n", 2);
  const index = rest === undefined ? null : parsed(line);
  const start = new TextEncoder().encode(line).length + 1;
  if (index?.format !== 1 || file.size !== start + index.bytes) return null;
  return {
    name,
    turn: index.turn,
    lengths: new Map(index.lengths),
    read: async () => parsed(await file.slice(start).text()),
  };
}

async function sittingsOf(place) {
  const names = [];
  for await (const name of place.keys()) if (name.endsWith(ENDING)) names.push(name);
  const texts = await Promise.all(names.map(async (name) => (await fileAt(place, name))?.text()));
  return texts.map((text) => text && readSitting(text)).filter(Boolean);
}

async function fileAt(place, name) {
  try {
    return await (await place.getFileHandle(name)).getFile();
  } catch (error) {
    if (error.name === "NotFoundError") return null;
    throw error;
  }
}

function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
