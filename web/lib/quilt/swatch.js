// Fabrics as they look: a colour with a print of it, or a photographed swatch. Tiles that a canvas repeats, to scale.

/** The prints that a colour can have. */
export const PRINTS = ["plain", "dots", "lines", "checks", "sprigs"];

const TILE = 96; // px of a tile
const PRINT_WIDE = 1.6; // inches that a tile of a print takes
const PHOTO = 320; // px of a kept photograph: its middle square

/**
 * A tile for a fabric, its print's head up: {image, wide} with the inches that it is wide; a plain colour has none. What
 * runs one way and does not show it by itself has the colour of an `arrow` that does. `photo` is {picture, inches}.
 */
export function tileOf(fabric, photo) {
  if (photo) return { image: photo.picture, wide: photo.inches };
  const arrow = fabric.one_way && { arrow: isLight(fabric.colour) ? "#251a30" : "#ffffff" };
  if (fabric.print === "plain") return { colour: fabric.colour, ...arrow };
  return { image: printed(fabric), wide: PRINT_WIDE, ...arrow };
}

function printed({ colour, print }) {
  const canvas = Object.assign(document.createElement("canvas"), { width: TILE, height: TILE });
  const pen = canvas.getContext("2d");
  pen.fillStyle = colour;
  pen.fillRect(0, 0, TILE, TILE);
  pen.fillStyle = pen.strokeStyle = isLight(colour) ? "rgb(60 30 10 / 0.2)" : "rgb(255 250 235 / 0.34)";
  DRAWN[print](pen);
  return canvas;
}

const DRAWN = {
  dots: (pen) => everywhere((x, y) => circle(pen, x, y, TILE / 13)),
  lines: (pen) => [0.25, 0.75].forEach((at) => pen.fillRect(at * TILE - TILE / 24, 0, TILE / 12, TILE)),
  checks: (pen) =>
    [0, 0.5].forEach((at) => (pen.fillRect(at * TILE, 0, TILE / 4, TILE), pen.fillRect(0, at * TILE, TILE, TILE / 4))),
  sprigs: (pen) =>
    everywhere((x, y) => {
      [0, 1, 2, 3, 4].forEach((petal) =>
        circle(pen, x + Math.cos(petal * 1.257) * 9, y - 5 + Math.sin(petal * 1.257) * 9, 6),
      );
      pen.fillRect(x - 1.5, y + 9, 3, 14); // the stem
    }),
};

function everywhere(draw) {
  [
    [0.25, 0.25],
    [0.75, 0.75],
  ].forEach(([x, y]) => draw(x * TILE, y * TILE));
}

function circle(pen, x, y, radius) {
  pen.beginPath();
  pen.arc(x, y, radius, 0, 7);
  pen.fill();
}

/** Whether a colour (#rrggbb) is light, by what the eye makes of its parts (ITU-R BT.709). */
export function isLight(colour) {
  return lightness(colour) > 140;
}

/** How light a colour (#rrggbb) is: 0 for black, 255 for white. */
export function lightness(colour) {
  const [red, green, blue] = [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16));
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/**
 * A photographed swatch as it is kept, {photo, colour}: the middle square, made small. Rejects
 * when the file is no picture.
 */
export async function photoFrom(file) {
  const picture = await createImageBitmap(file);
  const side = Math.min(picture.width, picture.height);
  const canvas = Object.assign(document.createElement("canvas"), { width: PHOTO, height: PHOTO });
  canvas
    .getContext("2d")
    .drawImage(picture, (picture.width - side) / 2, (picture.height - side) / 2, side, side, 0, 0, PHOTO, PHOTO);
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", 0.8));
  return { photo: { type: blob.type, bytes: await blob.arrayBuffer() }, colour: middling(canvas) };
}

/** The colour that a picture comes to when it is made as small as can be. */
function middling(canvas) {
  const pen = Object.assign(document.createElement("canvas"), { width: 1, height: 1 }).getContext("2d");
  pen.imageSmoothingQuality = "high";
  pen.drawImage(canvas, 0, 0, 1, 1);
  return `#${[...pen.getImageData(0, 0, 1, 1).data]
    .slice(0, 3)
    .map((part) => part.toString(16).padStart(2, "0"))
    .join("")}`;
}

/** A kept photograph as a picture to draw with. */
export function pictureOf({ type, bytes }) {
  return createImageBitmap(new Blob([bytes], { type }));
}
