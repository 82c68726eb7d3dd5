// What is seen of a take: which samples, how close, and in which columns. Time runs down; lengths are in CSS pixels.

const CLOSEST = 1 / 12; // samples to a pixel: each sample is 12 pixels high
const ROW = 26; // a frame, where one is a row
const ABOVE = 0.35; // of what is seen lies above a place that is faced
const HEAD = 22; // at the top of the page, where the columns are named

export class View {
  constructor(clock) {
    this.clock = clock;
    this.width = 1;
    this.height = 1;
    this.perPixel = clock.firstOf(1) / ROW;
    this.hasSpectrum = false;
    this.top = 0; // the sample at the upper edge, maybe between two; below 0 under the names of the columns
  }

  get bottom() {
    return this.top + this.height * this.perPixel;
  }

  // How high the names of the columns stand.
  get head() {
    return HEAD;
  }

  get furthest() {
    return this.clock.samples / Math.max(this.height - this.head - 8, 1);
  }

  y(sample) {
    return (sample - this.top) / this.perPixel;
  }

  sampleAt(y) {
    return Math.min(Math.max(Math.floor(this.top + y * this.perPixel), 0), this.clock.samples - 1);
  }

  resize(width, height) {
    this.width = width;
    this.height = height;
    this.scrollTo(this.top);
  }

  scrollTo(top) {
    const least = -this.head * this.perPixel;
    const most = this.clock.samples - this.height * this.perPixel;
    this.top = Math.max(Math.min(top, most), least);
  }

  scrollBy(pixels) {
    this.scrollTo(this.top + pixels * this.perPixel);
  }

  // Comes closer by a factor; what is at `y` stays there.
  zoom(factor, y = this.height / 2) {
    const still = this.top + y * this.perPixel;
    this.perPixel = Math.min(Math.max(this.perPixel / factor, CLOSEST), Math.max(this.furthest, CLOSEST));
    this.scrollTo(still - y * this.perPixel);
  }

  zoomTo(perPixel, around) {
    this.perPixel = Math.min(Math.max(perPixel, CLOSEST), Math.max(this.furthest, CLOSEST));
    this.scrollTo(around - (this.height / 2) * this.perPixel);
  }

  rows(around) {
    this.zoomTo(this.clock.firstOf(1) / ROW, around);
  }

  // Scrolls so that more is seen of what comes after a place than before it.
  face(sample) {
    this.scrollTo(sample - ABOVE * this.height * this.perPixel);
  }

  // Scrolls no further than is needed to see a stretch, with some room around it.
  reveal(start, stop) {
    const margin = Math.min(60, this.height / 4) * this.perPixel;
    if (start - margin < this.top) this.scrollTo(start - margin);
    else if (stop + margin > this.bottom) this.scrollTo(Math.min(stop + margin - this.height * this.perPixel, start - margin));
  }

  // The columns from left to right, each with where it starts and how wide it is; a narrow page has fewer.
  columns() {
    const narrow = this.width < 620;
    const wave = this.hasSpectrum ? { wave: 14, spectrum: 28 } : { wave: 24 };
    const shares = narrow
      ? { ...wave, word: 32, sound: 20, stress: 18 }
      : { ...wave, word: 20, syllable: 13, sound: 13, stress: 10, mouth: 17, note: 14 };
    const number = narrow ? 40 : 58;
    const all = Object.values(shares).reduce((sum, share) => sum + share, 0);
    const found = { number: { x: 0, width: number } };
    let x = number;
    for (const [name, share] of Object.entries(shares)) {
      const width = ((this.width - number) * share) / all;
      found[name] = { x, width };
      x += width;
    }
    return found;
  }
}
