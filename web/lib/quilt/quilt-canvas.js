// A quilt of the core's painted on a canvas: every piece in its fabric, seams between them, soft as if filled.
//
// Most pieces share few shapes and fabrics, so each pair is painted once at the scale at hand and then only
// copied: 2,000 pieces take no longer than the pixels they cover. Pieces that are large on the screen are
// few, and painted as they are. A print is turned as the piece is cut, by the angle of its head.

const SHADES = [
  [0.55, "rgb(30 15 30 / 0.07)"],
  [0.22, "rgb(30 15 30 / 0.1)"],
]; // inches wide, colour
const SEAM = [0.05, "rgb(30 15 30 / 0.5)"];
const STAMP = 260; // px: larger pieces are no stamps
const RUNS = ["lengthwise", "crosswise"]; // how a fabric's strips run, in the order of the core's heads
const ARROW = [0.5, 0.1]; // of a piece's smaller side: how long the arrow of a print that runs one way is, and how thick
const NEAR = 44; // px of a piece's smaller side from which on it is drawn
const EDGE = 1; // px round a stamp, for the seam that reaches beyond the outline

export class QuiltPainter {
  #stamps = new Map();
  #scale = 0;
  #tiles = null;

  constructor(drawing) {
    this.drawing = drawing;
    this.boxes = drawing.shapes.map(boxOf);
  }

  /** The number of the piece at a place in inches, of the first `most` pieces; null where there is none. */
  pieceAt(x, y, most) {
    const { pieces, shapes } = this.drawing;
    for (let number = Math.min(most, pieces.length) - 1; number >= 0; number -= 1) {
      const [, , shape, left, top] = pieces[number];
      if (isInside(shapes[shape], x - left, y - top)) return number;
    }
    return null;
  }

  /**
   * Paints the quilt. `colours` names the fabric of each piece, `tiles` the look of each fabric, `view` is {scale, x,
   * y}: pixels to the inch, and where the quilt's corner falls.
   */
  paint(pen, { colours, tiles, view }) {
    if (view.scale !== this.#scale || tiles !== this.#tiles) this.#stamps.clear();
    this.#scale = view.scale;
    this.#tiles = tiles;
    pen.setTransform(1, 0, 0, 1, 0, 0);
    pen.clearRect(0, 0, pen.canvas.width, pen.canvas.height);
    const { clipped, clip, pieces } = this.drawing;
    for (let number = clipped; number < pieces.length; number += 1) this.#piece(pen, number, colours[number], view);
    if (!clipped) return;
    pen.save();
    clipTo(pen, clip, view);
    for (let number = 0; number < clipped; number += 1) this.#piece(pen, number, colours[number], view);
    pen.restore();
  }

  #piece(pen, number, fabric, { scale, x, y }) {
    const [, , shape, pieceX, pieceY] = this.drawing.pieces[number];
    const [left, top, right, bottom] = this.boxes[shape];
    const [fromX, fromY] = [x + (pieceX + left) * scale, y + (pieceY + top) * scale];
    const [wide, high] = [(right - left) * scale, (bottom - top) * scale];
    if (fromX > pen.canvas.width || fromY > pen.canvas.height || fromX + wide < 0 || fromY + high < 0) return;
    if (Math.max(wide, high) > STAMP) return this.#large(pen, shape, fabric, x + pieceX * scale, y + pieceY * scale);
    const stamp = this.#stampOf(shape, fabric, wide, high);
    pen.drawImage(stamp, Math.round(fromX) - EDGE, Math.round(fromY) - EDGE);
  }

  #large(pen, shape, fabric, x, y) {
    pen.save();
    this.#draw(pen, shape, fabric, x, y);
    pen.restore();
  }

  #draw(pen, shape, fabric, x, y) {
    const tile = this.#tiles[fabric] ?? { colour: "#999999" };
    const outline = this.drawing.shapes[shape];
    const head = headOf(this.drawing, shape, tile);
    drawPiece(pen, outline, { tile, head }, this.#scale, x, y);
    if (tile.arrow) drawArrow(pen, outline, this.boxes[shape], head, tile.arrow, this.#scale);
  }

  #stampOf(shape, fabric, wide, high) {
    const name = shape * 100 + fabric; // there are at most 50 fabrics and a few of their own
    if (!this.#stamps.has(name)) this.#stamps.set(name, this.#newStamp(shape, fabric, wide, high));
    return this.#stamps.get(name);
  }

  #newStamp(shape, fabric, wide, high) {
    const canvas = new OffscreenCanvas(Math.ceil(wide) + 2 * EDGE + 1, Math.ceil(high) + 2 * EDGE + 1);
    const [left, top] = this.boxes[shape];
    const scale = this.#scale;
    this.#draw(canvas.getContext("2d"), shape, fabric, EDGE - left * scale, EDGE - top * scale);
    return canvas;
  }
}

/** A piece with its shade towards the seams, which stays inside it, and the seam itself, half of which lies outside. */
function drawPiece(pen, outline, { tile, head }, scale, x, y) {
  const path = pathOf(outline);
  pen.setTransform(scale, 0, 0, scale, x, y);
  pen.lineJoin = "round";
  pen.fillStyle = fillOf(pen, tile, head);
  pen.fill(path);
  pen.save();
  pen.clip(path);
  for (const [wide, colour] of SHADES) if (wide * scale > 0.8) stroke(pen, path, wide, colour);
  pen.restore();
  stroke(pen, path, Math.max(SEAM[0], 0.8 / scale), SEAM[1]);
}

function stroke(pen, path, wide, colour) {
  pen.lineWidth = wide;
  pen.strokeStyle = colour;
  pen.stroke(path);
}

function pathOf(outline) {
  const path = new Path2D();
  outline.forEach(([x, y], corner) => (corner ? path.lineTo(x, y) : path.moveTo(x, y)));
  path.closePath();
  return path;
}

function clipTo(pen, [left, top, right, bottom], { scale, x, y }) {
  pen.beginPath();
  pen.rect(x + left * scale, y + top * scale, (right - left) * scale, (bottom - top) * scale);
  pen.clip();
}

function fillOf(pen, { colour, image, wide }, head) {
  if (colour) return colour;
  const pattern = pen.createPattern(image, "repeat");
  pattern.setTransform(new DOMMatrix().rotate(head).scale(wide / image.width));
  return pattern;
}

/** Where the head of a fabric's print lies in pieces of a shape, in degrees from the upper edge. */
export function headOf({ heads }, shape, { strips }) {
  return heads?.[shape][Math.max(0, RUNS.indexOf(strips))] ?? 0; // an older core's drawing has none
}

/** An arrow to the head of a print that runs one way, where the piece is seen from near. */
function drawArrow(pen, outline, [left, top, right, bottom], head, colour, scale) {
  const side = Math.min(right - left, bottom - top);
  if (side * scale < NEAR) return;
  const [x, y] = [0, 1].map((axis) => outline.reduce((sum, point) => sum + point[axis], 0) / outline.length);
  const [long, thick] = ARROW.map((share) => share * side);
  pen.save();
  pen.translate(x, y);
  pen.rotate((head * Math.PI) / 180);
  const path = new Path2D(
    `M0 ${long / 2}V${-long / 2}M${-long / 4} ${-long / 4}L0 ${-long / 2}L${long / 4} ${-long / 4}`,
  );
  pen.lineCap = "round";
  stroke(pen, path, thick / 2, colour);
  pen.restore();
}

function boxOf(outline) {
  const [xs, ys] = [outline.map(([x]) => x), outline.map(([, y]) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

function isInside(outline, x, y) {
  let inside = false;
  outline.forEach(([ax, ay], corner) => {
    const [bx, by] = outline[(corner + 1) % outline.length];
    if (ay > y !== by > y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) inside = !inside;
  });
  return inside;
}
