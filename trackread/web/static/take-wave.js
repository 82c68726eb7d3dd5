// Draws the sound of a take down the page: its waveform, by rows of pixels or sample by sample, and its pitch over it.

const LEAST_OCTAVES = 0.5; // a voice that keeps within half an octave has that half octave drawn, as on the sheet

export function drawSound(painter) {
  const { context, view, colours, columns } = painter;
  const { x, width } = columns.wave;
  context.save();
  context.beginPath();
  context.rect(x, 0, width, view.height);
  context.clip();
  const middle = x + width / 2;
  const reach = (width / 2 - 3) * scaleOf(painter);
  context.fillStyle = colours.quiet;
  if (view.perPixel >= 1) drawRows(painter, middle, reach);
  else drawSamples(painter, middle, reach);
  drawPitch(painter, x, width);
  context.restore();
}

// The loudest of what is known of the whole take fills the column, so that a whisper is seen too.
function scaleOf({ peaks }) {
  const all = peaks.tile(peaks.coarsest, 0);
  if (!all) return 1;
  peaks.loudest ??= Math.max(...all.highs, -Math.min(...all.lows), 1e-4);
  return 1 / peaks.loudest;
}

function drawRows({ context, view, peaks }, middle, reach) {
  const level = peaks.levelFor(view.perPixel);
  for (let y = 0; y < view.height; y += 1) {
    const start = view.top + y * view.perPixel;
    if (start >= view.clock.samples) return;
    if (start < 0) continue;
    const found = peaks.between(level, start, start + view.perPixel);
    if (!found) continue;
    const [low, high] = found;
    context.fillRect(middle + low * reach, y, Math.max((high - low) * reach, 1), 1);
  }
}

function drawSamples({ context, view, peaks, colours }, middle, reach) {
  context.strokeStyle = colours.quiet;
  context.lineWidth = 1.5;
  context.beginPath();
  const last = Math.min(Math.ceil(view.bottom) + 1, view.clock.samples);
  for (let sample = Math.max(Math.floor(view.top), 0); sample < last; sample += 1) {
    const found = peaks.between(0, sample, sample + 1);
    if (!found) continue;
    const across = middle + found[1] * reach;
    const y = view.y(sample + 0.5);
    context.lineTo(across, y);
    if (view.perPixel < 0.25) context.fillRect(across - 2, y - 2, 4, 4);
  }
  context.stroke();
}

function drawPitch(painter, x, width) {
  const { context, view, colours, model } = painter;
  const { hop, hertz } = model.take.pitch;
  const [low, high] = (model.range ??= rangeOf(hertz));
  const step = Math.max(1, Math.floor(view.perPixel / hop));
  const first = Math.max(Math.floor(view.top / hop / step) * step, 0);
  context.strokeStyle = colours.alarm;
  context.lineWidth = 2;
  context.beginPath();
  let gap = true;
  for (let k = first; k < hertz.length; k += step) {
    const y = view.y(k * hop);
    if (y > view.height) break;
    if (hertz[k]) {
      const across = x + 4 + ((Math.log2(hertz[k]) - low) / (high - low)) * (width - 8);
      if (gap) context.moveTo(across, y);
      else context.lineTo(across, y);
    }
    gap = !hertz[k];
  }
  context.stroke();
}

// The octaves of a voice, without a fiftieth of strays at either end.
function rangeOf(hertz) {
  const octaves = hertz.filter(Boolean).map(Math.log2).sort((a, b) => a - b);
  if (!octaves.length) return [0, 1];
  const stray = Math.floor(octaves.length / 50);
  const low = octaves[stray];
  const high = octaves[octaves.length - 1 - stray];
  const spare = Math.max(0, LEAST_OCTAVES - (high - low)) / 2;
  return [low - spare, high + spare];
}
