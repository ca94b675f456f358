// Names for what is kept that no other thing ever has.

/**
 * A new random id in the form of a UUID, version 4 (RFC 9562, 5.4); also where a page that came by
 * plain HTTP has no `randomUUID`.
 */
export function newId() {
  try {
    return crypto.randomUUID();
  } catch {
    return fromBytes(randomBytes());
  }
}

function randomBytes() {
  const bytes = new Uint8Array(16);
  try {
    return crypto.getRandomValues(bytes);
  } catch {
    return bytes.map(() => Math.random() * 256);
  }
}

function fromBytes(bytes) {
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}
