// A wave file as the server sends it (RIFF; PCM of 16 or 24 bits or float, one channel) turned into numbers, none of
// them changed: whole numbers over their full scale are exact in 32 bits of float.

const PIECE = 1 << 20; // bytes that are fetched at once, so that no second copy of a long take lies in memory

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

// Puts the samples in some bytes into an array, from a place on.
export function decode(bytes, head, into, place) {
  const count = Math.floor(bytes.byteLength / head.width);
  if (head.isFloat) into.set(new Float32Array(bytes, 0, count), place);
  else if (head.width === 2) {
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
  const head = headOf(await piece(path, 0, 4096));
  const buffer = new AudioBuffer({ length: head.length, numberOfChannels: 1, sampleRate: head.rate });
  const samples = buffer.getChannelData(0);
  const step = Math.floor(PIECE / 12) * 12; // whole samples of any width
  for (let at = 0, done = 0; at < head.length * head.width; at += step) {
    const stop = Math.min(at + step, head.length * head.width);
    done += decode(await piece(path, head.start + at, head.start + stop), head, samples, done);
    told(done, buffer);
  }
  return buffer;
}

async function piece(path, first, stop) {
  const answer = await fetch(path, { headers: { Range: `bytes=${first}-${stop - 1}` } });
  if (answer.status !== 206) throw new Error(answer.ok ? "the server sends no parts of a sound" : (await answer.json()).problem);
  return answer.arrayBuffer();
}
