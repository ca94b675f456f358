// A drawing of the page as a picture of its own: as SVG, with all that style sheets say of it written into it, or as PNG.

// What is said of a drawing by style sheets, as SVG takes it from attributes (SVG 2, "Presentation attributes").
const STYLES = [
  "display",
  "fill",
  "fill-opacity",
  "stroke",
  "stroke-width",
  "stroke-dasharray",
  "stroke-linecap",
  "stroke-linejoin",
  "stroke-opacity",
  "opacity",
  "font-family",
  "font-size",
  "font-weight",
  "text-anchor",
  "dominant-baseline",
  "paint-order",
  "transform",
  "visibility",
];
const LONGER = 2000; // px of a PNG's longer side
const NAMESPACE = "http://www.w3.org/2000/svg";

/** The drawing as an SVG file. */
export function svgFile(drawing, name) {
  return new File([textOf(drawing)], `${name}.svg`, { type: "image/svg+xml" });
}

/** The drawing as a PNG file on white. Rejects where the browser draws no such picture. */
export async function pngFile(drawing, name) {
  const url = URL.createObjectURL(new Blob([textOf(drawing)], { type: "image/svg+xml" }));
  try {
    const picture = new Image();
    picture.src = url;
    await picture.decode();
    const [wide, high] = sides(drawing);
    const scale = LONGER / Math.max(wide, high);
    const canvas = Object.assign(document.createElement("canvas"), {
      width: Math.round(wide * scale),
      height: Math.round(high * scale),
    });
    const pen = canvas.getContext("2d");
    pen.fillStyle = "#ffffff";
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/png"));
    return new File([blob], `${name}.png`, { type: "image/png" });
  } finally {
    URL.revokeObjectURL(url);
  }
}

function textOf(drawing) {
  const copy = drawing.cloneNode(true);
  const [originals, copies] = [drawing, copy].map((each) => [each, ...each.querySelectorAll("*")]);
  originals.forEach((original, place) => styled(copies[place], getComputedStyle(original)));
  const [wide, high] = sides(drawing);
  for (const [name, value] of Object.entries({ xmlns: NAMESPACE, width: wide, height: high }))
    copy.setAttribute(name, value);
  return new XMLSerializer().serializeToString(copy);
}

function styled(copy, style) {
  copy.removeAttribute("class");
  copy.removeAttribute("style");
  for (const name of STYLES) {
    const value = style.getPropertyValue(name);
    if (value && value !== "none" && value !== "normal" && value !== "auto") copy.style.setProperty(name, value);
    else if (value === "none" && (name === "fill" || name === "display")) copy.style.setProperty(name, value);
  }
}

/** The sides that a drawing has on the screen, or by its own coordinates where it is on none. */
function sides(drawing) {
  const { width, height } = drawing.getBoundingClientRect();
  if (width && height) return [width, height];
  const { width: wide, height: high } = drawing.viewBox.baseVal;
  return [wide, high];
}
