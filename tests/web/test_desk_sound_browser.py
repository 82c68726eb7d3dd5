"""What is heard and seen of the sound of a take in a real browser: exact to the sample, soft, and where it is."""

import numpy as np
import pytest
import soundfile

from tests.web.desk_pages import FRAME, a_page, asked, to_take, until
from tests.web.desks import PHONES, a_desk, serving
from tests.web.more_takes import more_takes

RATES = (44_100, 48_000, 96_000)
SUBTYPES = ("PCM_16", "PCM_24", "FLOAT")
KINDS = [(rate, subtype) for rate in RATES for subtype in SUBTYPES]
TONE = 3000  # hertz, in the first half of a take
RULE = 190  # the rules at each second kilohertz are lighter than this grey
CLICK = 12 * FRAME + 500  # the sample of a click in its second half


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("desk")


@pytest.fixture(scope="module")
def desk(folder):
    with serving(a_desk(folder)) as desk:
        yield desk


@pytest.fixture(scope="module")
def names(desk, folder):
    """A take of noise at each rate, with samples of each kind."""
    return {
        (rate, subtype): more_takes(desk.book, folder / f"{rate}-{subtype}", rate=rate, subtype=subtype)[0]
        for rate, subtype in KINDS
    }


@pytest.fixture(scope="module")
def page(browser):
    with a_page(browser) as page:
        yield page


EVERY_FRAME = """
async () => {
  const { desk } = await import('/static/take.js');
  const { exactly } = await import('/static/take-sound.js');
  const { sound, clock } = desk;
  const recorded = sound.buffer.getChannelData(0);
  const wrong = [];
  for (let frame = 0; frame < clock.frames; frame += 1) {
    const [first, stop] = clock.span(frame);
    const context = new OfflineAudioContext(1, stop - first + 64, sound.buffer.sampleRate);
    exactly(context, sound.buffer, first, stop).connect(context.destination);
    const heard = (await context.startRendering()).getChannelData(0);
    const same = heard.subarray(0, stop - first).every((value, k) => value === recorded[first + k]);
    if (!same || heard.subarray(stop - first).some((value) => value !== 0)) wrong.push(frame);
  }
  const samples = Array.from(recorded);
  return { wrong, frames: clock.frames, rate: sound.buffer.sampleRate, samples };
}
"""


@pytest.mark.parametrize(("rate", "subtype"), KINDS)
def test_what_is_played_of_a_frame_are_exactly_its_samples(page, desk, folder, names, rate, subtype):
    """Against the recording as libsndfile reads it: every sample of every frame, and nothing after it."""
    recorded = soundfile.read(folder / f"{rate}-{subtype}" / "reel.wav", dtype="float32")[0]
    told = to_take(page, desk.address, names[rate, subtype]).evaluate(EVERY_FRAME)

    assert told["rate"] == rate
    assert told["frames"] == PHONES
    assert told["wrong"] == []
    assert told["samples"] == recorded.tolist()


LOOP = """
async () => {
  const { desk } = await import('/static/take.js');
  const { faded, reversed, soft } = await import('/static/take-sound.js');
  const looped = faded(desk.sound.buffer, 100, 5000).getChannelData(0);
  const back = reversed(desk.sound.buffer, 100, 5000).getChannelData(0);
  const recorded = desk.sound.buffer.getChannelData(0).subarray(100, 5000);
  const context = new OfflineAudioContext(1, 48000, 48000);
  const loud = new AudioBuffer({ length: 48000, sampleRate: 48000 });
  loud.getChannelData(0).forEach((_, k, all) => { all[k] = Math.sin(k / 10); });
  const source = new AudioBufferSourceNode(context, { buffer: loud });
  source.connect(soft(context, 1));
  source.start();
  const heard = (await context.startRendering()).getChannelData(0);
  return {
    ends: [looped[0], looped[looped.length - 1]],
    middle: looped.subarray(240, -240).every((value, k) => value === recorded[240 + k]),
    back: back.every((value, k) => value === recorded[recorded.length - 1 - k]),
    loudest: Math.max(...heard.subarray(4800)),
  };
}
"""


def test_loops_fade_at_their_ends_and_the_level_is_limited(page, desk):
    told = to_take(page, desk.address, "L0001-1").evaluate(LOOP)

    assert told["ends"] == [0, 0]
    assert told["middle"]
    assert told["back"]
    assert told["loudest"] < 0.9


def test_half_speed_keeps_the_pitch_and_a_second_key_stops(page, desk):
    to_take(page, desk.address, "L0001-1")
    page.keyboard.press("h")
    page.keyboard.press("t")
    page.wait_for_timeout(400)
    element = asked(page, "[desk.sound.element.playbackRate, desk.sound.element.preservesPitch]")
    position = asked(page, "desk.sound.position")
    page.keyboard.press(" ")

    assert element == [0.5, True]
    assert 0 < position < 0.4 * 48_000
    assert not asked(page, "desk.sound.isPlaying")


@pytest.fixture(scope="module")
def tone_and_click(desk, folder):
    """A take with a tone in its first half and one click in its second."""
    signal = np.zeros(PHONES * FRAME)
    times = np.arange(8 * FRAME) / 48_000
    signal[: 8 * FRAME] = 0.3 * np.sin(2 * np.pi * TONE * times)
    signal[CLICK] = 0.9
    return more_takes(desk.book, folder / "tone", signal=signal)[0]


# The spectrogram alone, drawn on white as the page draws it: of each row of pixels from one sample to another the first
# sample, the darkest grey, and at which share of the width that lies.
DARKEST = """
async ([first, stop, perPixel]) => {
  const { desk } = await import("/static/take.js");
  const { view, painter } = desk;
  view.zoomTo(perPixel, (first + stop) / 2);
  const width = 400;
  const context = new OffscreenCanvas(width, view.height).getContext("2d");
  const tiles = () => [...painter.spectrum.tiles.kept.values()];
  const draw = () => {
    context.fillStyle = "white";
    context.fillRect(0, 0, width, view.height);
    painter.spectrum.draw({ context, view, colours: painter.colours }, { x: 0, width }, 0.9);
  };
  do {
    draw();
    await new Promise((done) => setTimeout(done, 30));
  } while (!tiles().length || tiles().includes(null));
  draw();
  const rows = [];
  for (let y = Math.ceil(view.y(first)); y < view.y(stop); y += 1) {
    const { data } = context.getImageData(0, y, width, 1);
    const grey = Math.min(...data.filter((_, k) => k % 4 === 0));
    const places = [...Array(width).keys()].filter((k) => data[4 * k] === grey);
    const middle = places.reduce((sum, k) => sum + k + 0.5, 0) / places.length;
    rows.push([view.top + y * view.perPixel, grey, middle / width]);
  }
  return rows;
}
"""


@pytest.fixture
def spectrum(page, desk, tone_and_click):
    """The page of the tone and the click, with its spectrogram, without its pitch."""
    to_take(page, desk.address, tone_and_click)
    until(page, "desk.model.pitch")
    asked(page, "(desk.model.pitch = null, desk.view.hasSpectrum || desk.run('spectrum'))")
    return page


@pytest.mark.parametrize("per_pixel", [48, 64, 100])
def test_a_tone_lies_at_its_share_of_eight_kilohertz(spectrum, per_pixel):
    rows = spectrum.evaluate(DARKEST, [2 * FRAME, 3 * FRAME, per_pixel])

    assert rows
    assert all(share == pytest.approx(TONE / 8000, abs=0.01) for _, _, share in rows)


@pytest.mark.parametrize("per_pixel", [16, 64, 200])
def test_a_click_lies_in_the_row_of_pixels_where_it_is(spectrum, per_pixel):
    """A window of 5 ms reaches as far before it as after it, so the middle of what is dark is told."""
    rows = spectrum.evaluate(DARKEST, [CLICK - 1000, CLICK + 1000, per_pixel])
    marks = [sample + per_pixel / 2 for sample, grey, _ in rows if grey < RULE]

    assert abs(np.mean(marks) - CLICK) <= max(per_pixel, 32)
    assert max(marks) - min(marks) <= 240 + 2 * max(per_pixel, 64)


def test_the_spectrogram_is_wanted_until_the_browser_is_closed(spectrum, desk):
    to_take(spectrum, desk.address, "L0001-1")
    kept = asked(spectrum, "[desk.view.hasSpectrum, document.getElementById('do-spectrum').ariaPressed]")
    spectrum.keyboard.press("e")
    gone = asked(spectrum, "[desk.view.hasSpectrum, 'spectrum' in desk.view.columns()]")
    to_take(spectrum, desk.address, "L0001-1")

    assert kept == [True, "true"]
    assert gone == [False, False]
    assert not asked(spectrum, "desk.view.hasSpectrum")


def test_only_what_is_seen_of_a_spectrogram_is_asked_for(spectrum):
    drawn = "desk.painter.spectrum.tiles.kept.clear(), desk.view.zoomTo(32, 0), desk.painter.draw()"
    seen = asked(spectrum, f"({drawn}, [...desk.painter.spectrum.tiles.kept.keys()])")
    height = asked(spectrum, "desk.view.height")

    assert seen == [f"5/{number}" for number in range(-(-int(height) // 256))]
