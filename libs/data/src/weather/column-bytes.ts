// Columns of hours as PostgreSQL packs them: numbers in network byte order, one after the other.

/** 4-byte whole numbers. */
export function minutesOf(bytes: Uint8Array | null): Int32Array {
  const view = viewOf(bytes);
  const numbers = new Int32Array(view.byteLength / 4);
  for (let at = 0; at < numbers.length; at += 1) numbers[at] = view.getInt32(at * 4);
  return numbers;
}

/** 4-byte floats. */
export function floatsOf(bytes: Uint8Array | null): Float32Array {
  const view = viewOf(bytes);
  const numbers = new Float32Array(view.byteLength / 4);
  for (let at = 0; at < numbers.length; at += 1) numbers[at] = view.getFloat32(at * 4);
  return numbers;
}

/** Single bytes with a sign. */
export function signsOf(bytes: Uint8Array | null): Int8Array {
  const view = viewOf(bytes);
  return new Int8Array(view.buffer, view.byteOffset, view.byteLength);
}

function viewOf(bytes: Uint8Array | null): DataView {
  const given = bytes ?? new Uint8Array(0);
  return new DataView(given.buffer, given.byteOffset, given.byteLength);
}
