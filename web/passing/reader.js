// Reads codes from pictures: by the browser's own reader where there is one, else by the one that is kept with the page.

const SIDES = [1280, 640, 2200]; // px: one and the same code is found in one of them and missed in another

let own; // the reader that was found, once

/** The readers that there are here, the better first: each gives what the codes in a picture say. */
async function reader() {
  own ??= (await native()) ?? (await brought());
  return own;
}

async function native() {
  try {
    if (!(await BarcodeDetector.getSupportedFormats()).includes("qr_code")) return null;
    const detector = new BarcodeDetector({ formats: ["qr_code"] });
    return async (canvas) => (await detector.detect(canvas)).map(({ rawValue }) => rawValue);
  } catch {
    return null;
  }
}

async function brought() {
  const { decodeQR } = await import("../vendor/qr/decode.js");
  return async (canvas) => {
    const { width, height } = canvas;
    try {
      const { data } = canvas.getContext("2d", { willReadFrequently: true }).getImageData(0, 0, width, height);
      return [decodeQR({ width, height, data })];
    } catch {
      return []; // it throws where it finds none
    }
  };
}

/** What the codes in a frame of a video say; an empty list where none is seen. */
export async function readFrame(video, canvas) {
  const side = Math.min(video.videoWidth, video.videoHeight); // what is aimed at lies in the middle
  if (!side) return [];
  drawn(canvas, video, Math.min(side, 900), {
    x: (video.videoWidth - side) / 2,
    y: (video.videoHeight - side) / 2,
    width: side,
    height: side,
  });
  return (await reader())(canvas);
}

/** What the codes in a picture file say. Rejects where the file is no picture. */
export async function readPicture(file) {
  const picture = await createImageBitmap(file);
  const read = await reader();
  const canvas = document.createElement("canvas");
  const whole = { x: 0, y: 0, width: picture.width, height: picture.height };
  for (const side of SIDES) {
    drawn(canvas, picture, side, whole);
    const said = await read(canvas);
    if (said.length) return said;
  }
  return [];
}

/** Part of a picture on a canvas, its longer side of so many px at the most. */
function drawn(canvas, picture, side, { x, y, width, height }) {
  const scale = Math.min(1, side / Math.max(width, height));
  Object.assign(canvas, { width: Math.round(width * scale), height: Math.round(height * scale) });
  const context = canvas.getContext("2d", { willReadFrequently: true });
  context.fillStyle = "#ffffff";
  context.fillRect(0, 0, canvas.width, canvas.height);
  context.drawImage(picture, x, y, width, height, 0, 0, canvas.width, canvas.height);
}

/** Whether there is a camera that may be asked for here. */
export function mayHaveCamera() {
  return Boolean(globalThis.navigator.mediaDevices?.getUserMedia);
}
