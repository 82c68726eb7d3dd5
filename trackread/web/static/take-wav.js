// A wave file as the server sends it (RIFF; PCM of 16 or 24 bits or float, one channel) turned into numbers, none of
// them changed: whole numbers over their full scale are exact in 32 bits of float.

const PIECE = 12 << 16; // bytes that are fetched at once, so that no second copy of a long take lies in memory
const HEAD = 4096; // bytes that the head has at most

// Where the samples begin, how many bytes each has, and whether they are float.
export function headOf(bytes) {
  const view = new DataView(bytes);
  const name = (at) => String.fromCharCode(...new Uint8Array(bytes, at, 4));
  const head = { width: 0, isFloat: false, start: 0, length: 0, rate: 0 };
  for (let at = 12; at + 8 <= bytes.byteLength; ) {
    const length = view.getUint32(at + 4, true);
    if (name(at) === "fmt ") {
      head.isFloat = view.getUint16(at + 8, true) === 3;
      head.rate = view.getUint32(at + 12, true);
      head.width = view.getUint16(at + 22, true) / 8;
    }
    if (name(at) === "data") return { ...head, start: at + 8, length: length / head.width };
    at += 8 + length + (length % 2);
  }
  throw new Error("the sound has no samples");
}

// Puts the samples in the first of some bytes into an array, from a place on.
export function decode(bytes, length, { width, isFloat }, into, place) {
  const count = Math.floor(length / width);
  if (isFloat) into.set(new Float32Array(bytes, 0, count), place);
  else if (width === 2) {
    const numbers = new Int16Array(bytes, 0, count);
    for (let k = 0; k < count; k += 1) into[place + k] = numbers[k] / 32768;
  } else {
    const one = new Uint8Array(bytes);
    for (let k = 0, at = 0; k < count; k += 1, at += 3) {
      into[place + k] = (((one[at + 2] << 24) | (one[at + 1] << 16) | (one[at] << 8)) >> 8) / 8388608;
    }
  }
  return count;
}

// Fetches a sound piece by piece into an AudioBuffer at the recording's own rate; `told` hears how many samples are in.
export async function fetchSound(path, told = () => {}) {
  const head = headOf((await piece(path, 0, HEAD, new ArrayBuffer(HEAD + 1))).bytes);
  const buffer = new AudioBuffer({ length: head.length, numberOfChannels: 1, sampleRate: head.rate });
  const samples = buffer.getChannelData(0);
  const end = head.start + head.length * head.width;
  let bytes = new ArrayBuffer(PIECE + 1); // one more, in which a piece is seen to have ended
  for (let at = head.start, done = 0; at < end; at += PIECE) {
    const found = await piece(path, at, Math.min(at + PIECE, end), bytes);
    done += decode(found.bytes, found.length, head, samples, done);
    bytes = found.bytes;
    told(done, buffer);
  }
  return buffer;
}

// Some bytes of a sound, in the memory that is given for them where the browser can do that: a long take would leave a
// copy of itself for the collector otherwise. Gives where they lie, and how many they are.
async function piece(path, first, stop, memory) {
  const answer = await fetch(path, { headers: { Range: `bytes=${first}-${stop - 1}` } });
  if (answer.status !== 206) throw new Error(answer.ok ? "the server sends no parts of a sound" : (await answer.json()).problem);
  let reader;
  try {
    reader = answer.body.getReader({ mode: "byob" });
  } catch {
    const bytes = await answer.arrayBuffer();
    return { bytes, length: bytes.byteLength };
  }
  let bytes = memory;
  for (let length = 0; ; ) {
    const { value, done } = await reader.read(new Uint8Array(bytes, length));
    bytes = value.buffer;
    length += value.byteLength;
    if (done) return { bytes, length };
  }
}
