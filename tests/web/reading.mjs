// The page's own reader of codes, without a page: what it reads in gray pictures as a picture file (`readPicture`) and as a
// camera's frame (`readFrame`). The canvas that it draws on stands here, bilinear as a browser's is.
//
//   node reading.mjs APP [photo] [frame] < pictures      a line of JSON, [[width, height], …], and then their bytes
//
// writes {says, ms} a picture and way: the text or null, and the milliseconds without those of the drawing.

import { buffer } from "node:stream/consumers";

const [app, ...ways] = process.argv.slice(2);
const { readFrame, readPicture } = await import(`${app}/passing/reader.js`);
const given = await buffer(process.stdin);
const head = given.indexOf("\n");
let spent = 0; // milliseconds that a browser does in its own ways

class Canvas {
  getContext() {
    return this;
  }

  fillRect() {}

  drawImage(picture, x, y, width, height) {
    const begun = performance.now();
    this.gray = scaled(picture, { x, y, width, height }, this);
    spent += performance.now() - begun;
  }

  getImageData() {
    const begun = performance.now();
    const data = new Uint8ClampedArray(4 * this.gray.length).fill(255);
    this.gray.forEach((light, i) => data.fill(light, 4 * i, 4 * i + 3));
    spent += performance.now() - begun;
    return { data };
  }
}

/** A part of a gray picture at another size. */
function scaled(picture, part, { width, height }) {
  const gray = new Uint8ClampedArray(width * height);
  for (let y = 0; y < height; y += 1) {
    const [top, below, down] = between(part.y + ((y + 0.5) * part.height) / height - 0.5, picture.height);
    for (let x = 0; x < width; x += 1) {
      const [left, right, along] = between(part.x + ((x + 0.5) * part.width) / width - 0.5, picture.width);
      const row = (at) => mixed(picture.gray[at + left], picture.gray[at + right], along);
      gray[y * width + x] = mixed(row(top * picture.width), row(below * picture.width), down);
    }
  }
  return gray;
}

/** The two whole places that a place lies between, and how far it is from the first. */
function between(place, size) {
  const at = Math.max(0, Math.min(size - 1, place));
  return [Math.floor(at), Math.min(size - 1, Math.floor(at) + 1), at % 1];
}

function mixed(one, other, share) {
  return one + (other - one) * share;
}

globalThis.document = { createElement: () => new Canvas() };
globalThis.createImageBitmap = async (picture) => picture;
const canvas = new Canvas();
const READ = {
  photo: (picture) => readPicture(picture),
  frame: (picture) => readFrame({ ...picture, videoWidth: picture.width, videoHeight: picture.height }, canvas),
};

async function timed(way, picture) {
  spent = 0;
  const begun = performance.now();
  const [says = null] = await READ[way](picture);
  return { says, ms: performance.now() - begun - spent };
}

const found = [];
let at = head + 1;
for (const [width, height] of JSON.parse(given.subarray(0, head).toString())) {
  const picture = { width, height, gray: given.subarray(at, at + width * height) };
  if (!found.length) for (let warm = 0; warm < 5; warm += 1) await timed("photo", picture); // compiled, as after a second of looking
  const read = {};
  for (const way of ways) read[way] = await timed(way, picture);
  found.push(read);
  at += width * height;
}
process.stdout.write(JSON.stringify(found));
