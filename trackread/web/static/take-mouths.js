// What the puppet would wear, asked for as it is seen: so many frames at a time, and again once the take is another. The
// mouths of before are shown until the new ones are here.

const FRAMES = 720; // asked for at once
const MOST = 3; // parts that may be seen at once: further away, mouths are too small to read

export class Mouths {
  constructor(model, clock, changed) {
    Object.assign(this, { model, clock, changed });
    this.parts = new Map();
    this.has = true; // whether the character has a kit, as far as is known
  }

  // The mouths on the frames from `first` to before `stop`.
  *seen(first, stop) {
    if (!this.has || stop - first > MOST * FRAMES) return;
    for (let part = Math.floor(first / FRAMES); part * FRAMES < stop; part += 1) yield* this.part(part);
  }

  part(number) {
    const { revision } = this.model.take;
    const known = this.parts.get(number);
    if (known?.revision === revision) return known.mouths;
    const part = { revision, mouths: known?.mouths ?? [] };
    this.parts.set(number, part);
    this.ask(number, part);
    return part.mouths;
  }

  async ask(number, part) {
    const first = number * FRAMES;
    const stop = Math.min(first + FRAMES, this.clock.frames);
    const answer = await fetch(`${this.model.path}/mouths?from=${first}&to=${stop}`).catch(() => null);
    if (!answer?.ok) return;
    const { kit, mouths } = await answer.json();
    this.has = kit !== "";
    part.mouths = mouths;
    this.changed();
  }
}
