// The sound of a shot, of which single frames are heard: exactly their samples, with short fades at both ends.
//
// Frame k is heard from sample ceil(k * rate / frames a second) on, as trackread/core/timebase.py has it. Nothing is
// played at more than half of full level.

export const RATE = 48000; // of the server's sound
const MOST = 0.5; // of full level
const FADE = 0.003; // seconds
const SOON = 0.01; // seconds until it starts, so that the fade is whole

/** The first sample of a frame at `perSecond`, a fraction of two whole numbers. */
export function firstSample(frame, [numerator, denominator]) {
  return Math.ceil((frame * RATE * denominator) / numerator);
}

/** Plays the samples `first` to before `stop` of a buffer, on any audio context; gives the node that plays. */
export function playOn(context, buffer, { first, stop, loudness, at }) {
  const source = new AudioBufferSourceNode(context, { buffer });
  const level = new GainNode(context, { gain: 0 });
  const length = (stop - first) / RATE;
  const fade = Math.min(FADE, length / 4);
  const most = MOST * loudness;
  level.gain.setValueAtTime(0, at);
  level.gain.linearRampToValueAtTime(most, at + fade);
  level.gain.setValueAtTime(most, at + length - fade);
  level.gain.linearRampToValueAtTime(0, at + length);
  source.connect(level).connect(context.destination);
  source.start(at, first / RATE, length);
  return source;
}

export class Sound {
  constructor() {
    this.buffer = null;
    this.loudness = 0.5;
    this.playing = null;
  }

  /** Fetches a sound, which is in memory from then on. Says in words why there is none, "" if there is. */
  async load(address) {
    this.buffer = null;
    try {
      const answer = await fetch(address, { credentials: "same-origin" });
      if (!answer.ok) return (await answer.json()).problem;
      const bytes = await answer.arrayBuffer();
      // Without a context that plays, which a browser lets begin at a touch only.
      this.buffer = await new OfflineAudioContext(1, 1, RATE).decodeAudioData(bytes);
      return "";
    } catch {
      return "the sound could not be fetched: it is tried again when the network is back";
    }
  }

  /** Plays the samples `first` to before `stop`, instead of what is playing. */
  play(first, stop) {
    if (!this.buffer) return;
    this.context ??= new AudioContext({ sampleRate: RATE });
    this.context.resume();
    this.playing?.stop();
    const ends = { first: Math.max(0, first), stop: Math.min(stop, this.buffer.length) };
    const at = this.context.currentTime + SOON;
    this.playing = playOn(this.context, this.buffer, { ...ends, loudness: this.loudness, at });
  }
}
