// A quilt of the core's painted on a canvas: every piece in its fabric, seams between them, soft as if filled.

const SEAMS = [[0.55, "rgb(30 15 30 / 0.07)"], [0.22, "rgb(30 15 30 / 0.1)"], [0.05, "rgb(30 15 30 / 0.55)"]]; // inches wide, colour

/** The paths of a drawing, made once: all seams, and the places of the pieces. */
export class QuiltPaths {
  constructor(drawing) {
    this.drawing = drawing;
    this.inside = seams(drawing, 0, drawing.clipped);
    this.outside = seams(drawing, drawing.clipped, drawing.pieces.length);
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
}

/**
 * Paints a quilt. `colours` names the fabric of each piece, `tiles` the look of each fabric, `view` is {scale, x, y}: pixels
 * to the inch, and where the quilt's corner falls.
 */
export function paintQuilt(pen, paths, { colours, tiles, view }) {
  const { drawing } = paths;
  pen.setTransform(1, 0, 0, 1, 0, 0);
  pen.clearRect(0, 0, pen.canvas.width, pen.canvas.height);
  pen.setTransform(view.scale, 0, 0, view.scale, view.x, view.y);
  pen.lineJoin = "round";
  const fills = tiles.map((tile) => fillOf(pen, tile));
  paintPart(pen, fabricPaths(drawing, colours, drawing.clipped, drawing.pieces.length), fills, paths.outside, view);
  if (!drawing.clipped) return;
  pen.save();
  clip(pen, drawing.clip);
  paintPart(pen, fabricPaths(drawing, colours, 0, drawing.clipped), fills, paths.inside, view);
  pen.restore();
}

function paintPart(pen, byFabric, fills, seamPath, { scale }) {
  byFabric.forEach((path, fabric) => {
    pen.fillStyle = fills[fabric] ?? "#999999";
    pen.fill(path);
  });
  for (const [wide, colour] of SEAMS) {
    pen.lineWidth = Math.max(wide, 0.7 / scale);
    pen.strokeStyle = colour;
    if (wide * scale > 0.6) pen.stroke(seamPath);
  }
}

/** One path a fabric: far fewer fills than one a piece. */
function fabricPaths({ pieces, shapes }, colours, from, to) {
  const found = new Map();
  for (let number = from; number < to; number += 1) {
    const [, , shape, x, y] = pieces[number];
    const fabric = colours[number];
    if (!found.has(fabric)) found.set(fabric, new Path2D());
    trace(found.get(fabric), shapes[shape], x, y);
  }
  return found;
}

function seams({ pieces, shapes }, from, to) {
  const path = new Path2D();
  for (let number = from; number < to; number += 1) trace(path, shapes[pieces[number][2]], pieces[number][3], pieces[number][4]);
  return path;
}

function trace(path, outline, x, y) {
  outline.forEach(([left, top], corner) => (corner ? path.lineTo(x + left, y + top) : path.moveTo(x + left, y + top)));
  path.closePath();
}

function clip(pen, [left, top, right, bottom]) {
  pen.beginPath();
  pen.rect(left, top, right - left, bottom - top);
  pen.clip();
}

function fillOf(pen, { colour, image, wide }) {
  if (colour) return colour;
  const pattern = pen.createPattern(image, "repeat");
  pattern.setTransform(new DOMMatrix().scale(wide / image.width));
  return pattern;
}

function isInside(outline, x, y) {
  let inside = false;
  outline.forEach(([ax, ay], corner) => {
    const [bx, by] = outline[(corner + 1) % outline.length];
    if (ay > y !== by > y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) inside = !inside;
  });
  return inside;
}
