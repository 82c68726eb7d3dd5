// Plays a take: any samples of it exactly, in a loop with faded ends, backwards, at half speed with the pitch kept, or as
// the browser fetches it. All of it goes through a gain of a half at first and a limiter, for the sake of ears.

import { fetchSound } from "./take-wav.js";

const FADE = 0.005; // seconds, at each end of a loop
const BACK = 30; // seconds that are played backwards at most
const SOFT = 0.5;
const LIMIT = { threshold: -6, knee: 0, ratio: 20, attack: 0.001, release: 0.1 };

// A source of the samples from `first` to before `stop` of a buffer, none of them changed.
export function exactly(context, buffer, first, stop, when = 0) {
  const source = new AudioBufferSourceNode(context, { buffer });
  source.start(when, first / buffer.sampleRate, (stop - first) / buffer.sampleRate);
  return source;
}

// A copy of some samples whose ends are faded, so that a loop does not click.
export function faded(buffer, first, stop) {
  const made = new AudioBuffer({ length: stop - first, numberOfChannels: 1, sampleRate: buffer.sampleRate });
  const samples = made.getChannelData(0);
  samples.set(buffer.getChannelData(0).subarray(first, stop));
  const length = Math.min(Math.floor(FADE * buffer.sampleRate), samples.length >> 1);
  for (let k = 0; k < length; k += 1) {
    const share = 0.5 - 0.5 * Math.cos((Math.PI * k) / length);
    samples[k] *= share;
    samples[samples.length - 1 - k] *= share;
  }
  return made;
}

// A copy of some samples, the last first.
export function reversed(buffer, first, stop) {
  const made = new AudioBuffer({ length: stop - first, numberOfChannels: 1, sampleRate: buffer.sampleRate });
  made.getChannelData(0).set(buffer.getChannelData(0).slice(first, stop).reverse());
  return made;
}

// A gain and a limiter before whatever is heard; gives the gain.
export function soft(context, level = SOFT) {
  const gain = new GainNode(context, { gain: level });
  gain.connect(new DynamicsCompressorNode(context, LIMIT)).connect(context.destination);
  return gain;
}

// Where sounds come out, one or several.
export class Output {
  constructor() {
    this.level = SOFT;
  }

  setLevel(level) {
    this.level = level;
    if (this.gain) this.gain.gain.value = level;
  }

  // A browser lets sound begin only once somebody has pressed something.
  open(options) {
    if (!this.context) {
      this.context = new AudioContext({ latencyHint: "interactive", ...options });
      this.gain = soft(this.context, this.level);
    }
    this.context.resume();
    return this.context;
  }
}

export class TakeSound extends EventTarget {
  constructor(path, output = new Output()) {
    super();
    this.path = path;
    this.output = output;
    this.buffer = null;
    this.loaded = 0; // samples that are here
    this.half = false;
    this.playing = null;
  }

  async load() {
    await fetchSound(this.path, (done, buffer) => {
      this.buffer = buffer;
      this.loaded = done;
      this.dispatchEvent(new Event("loaded"));
    });
  }

  get isPlaying() {
    return this.playing !== null;
  }

  // Where it is heard now, as a sample; null when nothing is.
  get position() {
    return this.playing ? this.playing.position() : null;
  }

  open() {
    return this.output.open(this.buffer ? { sampleRate: this.buffer.sampleRate } : {});
  }

  // Plays samples once, or in a loop; at half speed if that is chosen, unless they are a single frame.
  play(first, stop, { loop = false, single = false } = {}) {
    this.stop();
    const last = Math.min(stop, this.loaded);
    if (!this.buffer || first >= last) return false;
    if (this.half && !single) return this.stream(first, last, { loop, speed: 0.5 });
    const context = this.open();
    if (loop) {
      const source = new AudioBufferSourceNode(context, { buffer: faded(this.buffer, first, last), loop: true });
      source.start();
      return this.begin(source, (passed) => first + (passed % (last - first)));
    }
    return this.begin(exactly(context, this.buffer, first, last), (passed) => Math.min(first + passed, last));
  }

  playBackwards(from) {
    this.stop();
    const stop = Math.min(from, this.loaded);
    const first = Math.max(0, stop - BACK * (this.buffer?.sampleRate ?? 0));
    if (first >= stop) return false;
    const source = new AudioBufferSourceNode(this.open(), { buffer: reversed(this.buffer, first, stop) });
    source.start();
    return this.begin(source, (passed) => Math.max(stop - passed, first));
  }

  begin(source, placeAfter) {
    const { context, gain } = this.output;
    const began = context.currentTime;
    source.connect(gain);
    const playing = {
      position: () => Math.floor(placeAfter(Math.max(0, context.currentTime - began) * this.buffer.sampleRate)),
      end: () => {
        source.onended = null;
        source.stop();
        source.disconnect();
      },
    };
    source.onended = () => this.ended(playing);
    return this.started(playing);
  }

  // Plays from a media element, which begins before all is here, and keeps the pitch at any speed. It is exact to some
  // milliseconds only. Samples are those of `rate` a second.
  stream(first = 0, stop = Infinity, { loop = false, speed = 1, rate = this.buffer?.sampleRate ?? 1 } = {}) {
    this.stop();
    const context = this.open();
    if (!this.element) {
      this.element = new Audio(this.path);
      this.element.preservesPitch = true;
      context.createMediaElementSource(this.element).connect(this.output.gain);
    }
    const { element } = this;
    const playing = {
      position: () => Math.floor(element.currentTime * rate),
      end: () => {
        clearInterval(timer);
        element.pause();
      },
    };
    const watch = () => {
      if (element.ended || element.currentTime * rate >= stop) {
        if (loop) element.currentTime = first / rate;
        else this.ended(playing);
      }
    };
    const timer = setInterval(watch, 10);
    element.currentTime = first / rate;
    element.playbackRate = speed;
    element.play().catch(() => this.ended(playing));
    return this.started(playing);
  }

  started(playing) {
    this.playing = playing;
    this.dispatchEvent(new Event("change"));
    return true;
  }

  ended(playing) {
    if (this.playing !== playing) return;
    playing.end();
    this.playing = null;
    this.dispatchEvent(new Event("change"));
  }

  stop() {
    if (this.playing) this.ended(this.playing);
  }
}
