// Draws the sound of a take down the page: its waveform, by rows of pixels or sample by sample, its spectrogram where that
// is wanted, and its pitch over either.

const LEAST_OCTAVES = 0.5; // a voice that keeps within half an octave has that half octave drawn, as on the sheet

export function drawSound(painter) {
  const { columns, spectrum, peaks } = painter;
  within(painter, columns.wave, ({ x, width }) => {
    const middle = x + width / 2;
    const reach = (width / 2 - 3) * scaleOf(painter);
    painter.context.fillStyle = painter.colours.quiet;
    if (painter.view.perPixel >= 1) drawRows(painter, middle, reach);
    else drawSamples(painter, middle, reach);
    if (!columns.spectrum) drawPitch(painter, x, width);
  });
  if (!columns.spectrum) return;
  within(painter, columns.spectrum, (column) => {
    if (peaks.loudest) spectrum.draw(painter, column, peaks.loudest);
    drawPitch(painter, column.x, column.width);
  });
}

function within({ context, view }, column, draw) {
  context.save();
  context.beginPath();
  context.rect(column.x, 0, column.width, view.height);
  context.clip();
  draw(column);
  context.restore();
}

// The loudest of what is known of the whole take fills the column, so that a whisper is seen too.
function scaleOf({ peaks }) {
  const all = peaks.tile(peaks.coarsest, 0);
  if (!all) return 1;
  peaks.loudest ??= Math.max(1e-4, all.highs.reduce((a, b) => Math.max(a, b)), -all.lows.reduce((a, b) => Math.min(a, b)));
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
  if (!model.pitch) return;
  const { hop, octaves } = model.pitch;
  const [low, high] = (model.pitch.range ??= rangeOf(octaves));
  const step = Math.max(1, Math.floor(view.perPixel / hop));
  const first = Math.max(Math.floor(view.top / hop / step) * step, 0);
  context.strokeStyle = colours.alarm;
  context.lineWidth = 2;
  context.beginPath();
  let gap = true;
  for (let k = first; k < octaves.length; k += step) {
    const y = view.y(k * hop);
    if (y > view.height) break;
    const isVoiced = !Number.isNaN(octaves[k]);
    if (isVoiced) {
      const across = x + 4 + ((octaves[k] - low) / (high - low)) * (width - 8);
      if (gap) context.moveTo(across, y);
      else context.lineTo(across, y);
    }
    gap = !isVoiced;
  }
  context.stroke();
}

// The octaves of a voice, without a fiftieth of strays at either end.
function rangeOf(octaves) {
  const voiced = octaves.filter((value) => !Number.isNaN(value)).sort();
  if (!voiced.length) return [0, 1];
  const stray = Math.floor(voiced.length / 50);
  const low = voiced[stray];
  const high = voiced[voiced.length - 1 - stray];
  const spare = Math.max(0, LEAST_OCTAVES - (high - low)) / 2;
  return [low - spare, high + spare];
}
