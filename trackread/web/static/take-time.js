// Exact time: samples and frames are whole numbers, as trackread/core/timebase.py counts them. Frames count from 0.

export const divided = (a, b) => (a - (((a % b) + b) % b)) / b; // whole, downwards; all numbers here stay below 2 ** 53

export class Clock {
  constructor(take) {
    this.sampleRate = take.sample_rate;
    this.num = take.rate.num;
    this.den = take.rate.den;
    this.samples = take.samples;
    this.frames = take.frames;
    this.first = take.first_frame;
  }

  // The frame on screen while a sample is heard.
  frameAt(sample) {
    return divided(sample * this.num, this.sampleRate * this.den);
  }

  // The first sample of a frame.
  firstOf(frame) {
    return -divided(-frame * this.sampleRate * this.den, this.num);
  }

  // The first sample of the frame whose edge lies nearest.
  nearest(sample) {
    const frame = this.frameAt(sample);
    const before = this.firstOf(frame);
    const after = this.firstOf(frame + 1);
    return sample - before < after - sample ? before : after;
  }

  // The samples of a frame, within the take.
  span(frame) {
    return [this.firstOf(frame), Math.min(this.firstOf(frame + 1), this.samples)];
  }

  // The number that the production gives a frame.
  number(frame) {
    return this.first + frame;
  }
}
