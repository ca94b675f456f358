// Bytes as letters, in the two alphabets that codes and addresses take.

const URL_SAFE = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
const DENSE = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

/** Bytes in base64url without padding (RFC 4648, 5): what may stand in an address. */
export function toAddress(bytes) {
  let text = "";
  for (let place = 0; place < bytes.length; place += 3) {
    const [one, two = 0, three = 0] = bytes.subarray(place, place + 3);
    const group = (one << 16) | (two << 8) | three;
    const letters = [18, 12, 6, 0].map((shift) => URL_SAFE[(group >> shift) & 63]);
    text += letters.slice(0, Math.min(3, bytes.length - place) + 1).join("");
  }
  return text;
}

/** The bytes of a text in base64url; null where it is none. */
export function fromAddress(text) {
  if (!/^[\w-]*$/.test(text) || text.length % 4 === 1) return null;
  const bytes = [];
  for (let place = 0; place < text.length; place += 4) {
    const part = [...text.slice(place, place + 4)].map((letter) => URL_SAFE.indexOf(letter));
    const [one, two, three = 0, four = 0] = part;
    const group = (one << 18) | (two << 12) | (three << 6) | four;
    bytes.push(...[group >> 16, (group >> 8) & 255, group & 255].slice(0, part.length - 1));
  }
  return Uint8Array.from(bytes);
}

/** Bytes in base45 (RFC 9285): what a code holds in its dense writing of letters and figures. */
export function toDense(bytes) {
  let text = "";
  for (let place = 0; place < bytes.length; place += 2) {
    const pair = place + 1 < bytes.length;
    const value = pair ? bytes[place] * 256 + bytes[place + 1] : bytes[place];
    text += DENSE[value % 45] + DENSE[Math.floor(value / 45) % 45] + (pair ? DENSE[Math.floor(value / 2025)] : "");
  }
  return text;
}

/** The bytes of a text in base45; null where it is none. */
export function fromDense(text) {
  const values = [...text].map((letter) => DENSE.indexOf(letter));
  if (values.includes(-1) || values.length % 3 === 1) return null;
  const bytes = [];
  for (let place = 0; place < values.length; place += 3) {
    const [one, two, three] = values.slice(place, place + 3);
    const value = one + two * 45 + (three ?? 0) * 2025;
    if (value > (three === undefined ? 255 : 65535)) return null;
    bytes.push(...(three === undefined ? [value] : [value >> 8, value & 255]));
  }
  return Uint8Array.from(bytes);
}
