"""A shot with all its voices in a real browser: the sheet's rows, edges of takes, mouths set by hand, its sound.

What is seen is asked of the page's own parts, which `/static/shot.js` gives as `desk`, and of the server.
"""

import time
from dataclasses import dataclass
from fractions import Fraction

import httpx
import pytest
from axe_core_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.web.crowded import CAST, FRAME, SHOT, crowded
from tests.web.served import served
from trackread.book.book import Book
from trackread.book.corrections import corrections
from trackread.core.clock import clock_of_placement
from trackread.core.cut import Place, Placement, Source
from trackread.core.sound import Sound
from trackread.core.timebase import Frame, FrameRate, Sample
from trackread.workflow.keys import make_key

PATIENCE = 10  # seconds
FRAMES = 120
SIZES = {"desktop": (1440, 900), "phone": (390, 844)}
LEVELS = {"word": "words", "sound": "sounds", "syllable": "beats"}


@dataclass(frozen=True)
class Desk:
    """The desk, served as it is to a production: `get` and `post` are ANN's, who works in the browser, or BEN's."""

    address: str
    book: Book
    ann: httpx.Client
    ben: httpx.Client

    def get(self, path):
        return self.ann.get(path)

    def shot(self):
        return self.get(f"/api/shots/{SHOT}").json()

    def set_by_ben(self, character, frames, mouths):
        """BEN sets mouths, one after another, on what he sees now."""
        revision = self.get(f"/api/shots/{SHOT}").headers["etag"]
        first, stop = frames
        pins = [{"mouth": mouth, "first": first, "stop": stop} for mouth in mouths]
        body = {"character": character, "first": first, "stop": stop, "pins": pins}
        answer = self.ben.post(f"/api/shots/{SHOT}/mouths", json=body, headers={"If-Match": revision})
        assert answer.status_code == 200
        return pins


def signed_in(server, name):
    client = server.client(headers={"Origin": server.address})
    assert client.post("/sign-in", data={"key": make_key(server.book, "editor", name, "", "ANN").text}).is_redirect
    return client


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    """A shot of five seconds in which six speak; tests change it one after another."""
    with served(crowded(tmp_path_factory.mktemp("crowd"), frames=FRAMES)) as server:
        yield Desk(server.address, server.book, signed_in(server, "ANN"), signed_in(server, "BEN"))


class Pages:
    """A page of the shot in each size, kept open from test to test; what goes wrong in one is an error here."""

    def __init__(self, browser, desk):
        self.browser, self.desk = browser, desk
        self.open, self.problems = {}, []

    def page(self, size):
        if size not in self.open:
            self.open[size] = self.opened(*SIZES[size])
        page = self.open[size]
        asked(page, "desk.pick.selectAt(0, { voice: 0, level: 'word' })")
        page.focus("#stage")
        return page

    def opened(self, width, height):
        context = self.browser.new_context(viewport={"width": width, "height": height}, has_touch=width < 600)
        cookies = self.desk.ann.cookies.jar
        context.add_cookies([{"name": one.name, "value": one.value, "url": self.desk.address} for one in cookies])
        page = context.new_page()
        page.on("pageerror", lambda error: self.problems.append(str(error)))
        page.on("console", lambda message: self.problems.append(message.text))
        page.add_init_script("localStorage.setItem('trackread-ears', 'read')")
        page.goto(f"{self.desk.address}/desk/shot/{SHOT}")
        page.wait_for_selector("#stage[data-ready]")
        return page


@pytest.fixture(scope="module")
def pages(browser, desk):
    return Pages(browser, desk)


@pytest.fixture(params=SIZES)
def page(request, pages):
    yield pages.page(request.param)
    assert pages.problems == []


@pytest.fixture
def desktop(pages):
    yield pages.page("desktop")
    assert pages.problems == []


@pytest.fixture
def phone(pages):
    yield pages.page("phone")
    assert pages.problems == []


def asked(page, expression):
    """What an expression of the page's `desk` is, once all writes are done."""
    start = "const { desk } = await import('/static/shot.js'); await desk.model.settle()"
    return page.evaluate(f"async () => {{ {start}; return {expression}; }}")


def until(page, expression):
    last = time.monotonic() + PATIENCE
    while not asked(page, expression):
        assert time.monotonic() < last, f"never {expression}"
        page.wait_for_timeout(20)


def place_of(page, cut, column, take="L0001-1"):
    """Where an edge of a take of the first character is drawn on the page."""
    return asked(
        page,
        "(() => { const box = document.getElementById('stage').getBoundingClientRect();"
        f" const {{ x, width }} = desk.view.bands(0)[0].columns.{column};"
        f" const placed = desk.model.voices[0].placed.find((one) => one.name === '{take}');"
        f" const frame = placed.frameOf(placed.take.take.cuts[{cut}]);"
        " return [box.left + 1 + x + width / 2, box.top + 1 + desk.view.y(desk.clock.firstOf(frame))]; })()",
    )


def drag(page, cut, frames, column="word"):
    page.locator("#stage").scroll_into_view_if_needed()
    x, y = place_of(page, cut, column)
    row = asked(page, f"{FRAME} / desk.view.perPixel")
    page.mouse.move(x, y)
    page.mouse.down()
    for part in (0.4, 0.8, 1):
        page.mouse.move(x, y + part * frames * row)
    page.mouse.up()


def cuts(desk, take="L0001-1"):
    return desk.shot()["takes"][take]["cuts"]


ROWS = """
desk.model.voices.map((voice) =>
  desk.model.rowsOf(voice, 'LEVEL').map((one) => [one.first, one.stop, one.placed.textOf('LEVEL', one.indices)]))
"""


def test_what_is_drawn_of_every_voice_stands_on_the_rows_of_its_sheet(desktop, desk):
    """The page puts takes on frames by itself, so that it can while an edge is dragged; the server has the sheet's."""
    drawn = {level: asked(desktop, ROWS.strip().replace("LEVEL", level)) for level in LEVELS}
    voices = desk.shot()["voices"]

    assert [voice["character"] for voice in voices] == list(CAST)
    for level in ("word", "sound"):
        sheet = [[[one["first"], one["stop"], one["text"]] for one in voice[LEVELS[level]]] for voice in voices]
        assert drawn[level] == sheet
    beats = [[[one["first"], one["stop"]] for one in voice["beats"]] for voice in voices]
    assert [[one[:2] for one in voice] for voice in drawn["syllable"]] == beats


def test_an_edge_of_a_take_is_dragged_by_frames_of_the_shot_and_undone(page, desk):
    before = cuts(desk)
    frame = before[5] // FRAME
    drag(page, 5, 1)
    moved = asked(page, "desk.model.takes.get('L0001-1').take.cuts")
    kept = cuts(desk)
    page.keyboard.press("Control+z")
    until(page, f"desk.model.takes.get('L0001-1').take.cuts[5] === {before[5]}")

    assert moved[5] == (frame + 1) * FRAME
    assert kept == moved
    assert cuts(desk) == before
    assert {note.author for note in corrections(desk.book, "L0001-1")} == {"ANN"}


def test_an_edge_is_nudged_by_keys_to_the_frames_of_the_shot(page, desk):
    before = cuts(desk)[5]
    page.keyboard.press("ArrowRight")
    page.keyboard.press("]")
    page.keyboard.press("ArrowDown")
    moved = asked(page, "desk.model.takes.get('L0001-1').take.cuts[5]")
    page.keyboard.press("Escape")
    asked(page, "desk.model.settle()")
    page.keyboard.press("Control+z")
    until(page, f"desk.model.takes.get('L0001-1').take.cuts[5] === {before}")

    assert moved == (before // FRAME + 1) * FRAME


PICTURES = """
Promise.all([...document.querySelectorAll('#mouths img')].map((one) => one.decode().then(() => one.naturalWidth)))
"""


def test_a_mouth_is_chosen_with_pictures_pinned_on_more_frames_and_undone(page, desk):
    page.keyboard.press("p")
    page.keyboard.press("p")
    page.keyboard.press("p")
    page.keyboard.press("ArrowRight")
    first = asked(page, "desk.pick.frames[0]")
    page.keyboard.press("Shift+ArrowDown")
    frames = asked(page, "desk.pick.frames")
    page.keyboard.press("Enter")
    page.wait_for_selector("#mouths[open]")
    expect(page.locator("#mouths-plan")).to_be_hidden()
    pictures = page.evaluate(PICTURES)
    page.keyboard.press("3")
    page.keyboard.press("Enter")
    until(page, "desk.model.voices[0].pins.length === 1")
    voice = desk.shot()["voices"][0]
    page.keyboard.press("Control+z")
    until(page, "desk.model.voices[0].pins.length === 0")
    page.keyboard.press("Control+Shift+Z")
    until(page, "desk.model.voices[0].pins.length === 1")
    page.keyboard.press("i")
    until(page, "desk.model.voices[0].pins.length === 0")

    assert frames[0] == first
    assert len(pictures) == len(voice["mouth_names"])
    assert all(pictures)
    assert voice["pins"] == [{"mouth": voice["mouth_names"][2], "first": frames[0], "stop": frames[1]}]
    assert any(one.get("pinned") and one["mouth"] == voice["mouth_names"][2] for one in voice["mouths"])
    assert desk.shot()["voices"][0]["pins"] == []


def test_of_two_who_set_mouths_at_once_the_later_is_shown_both(desktop, desk, pages):
    for key in ("v", "p", "p", "p", "ArrowRight"):
        desktop.keyboard.press(key)
    frames = asked(desktop, "desk.pick.frames")
    names = desk.shot()["voices"][1]["mouth_names"]
    desktop.evaluate("async () => { (await import('/static/shot.js')).desk.model.refresh = async () => {}; }")
    pins = desk.set_by_ben(CAST[1], frames, [names[1]])
    desktop.keyboard.press("Enter")
    desktop.wait_for_selector("#mouths[open]")
    desktop.keyboard.press("4")
    desktop.keyboard.press("Enter")
    desktop.wait_for_selector("#tell[open]")
    told = desktop.inner_text("#tell")
    kept = asked(desktop, "desk.model.voices[1].pins")
    desktop.keyboard.press("Enter")
    desktop.reload()
    desktop.wait_for_selector("#stage[data-ready]")
    (refused,) = [pages.problems.pop() for _ in pages.problems[:]]

    assert "status of 412" in refused
    assert "BEN, " in told
    assert f"{CAST[1]} wears '{names[1]}'" in told
    assert f"{CAST[1]} wears '{names[3]}'" in told
    assert kept == pins == desk.shot()["voices"][1]["pins"]


def test_what_another_sets_is_seen(desktop, desk):
    pins = desk.set_by_ben(CAST[2], (2, 5), [desk.shot()["voices"][2]["mouth_names"][0]])
    expect(desktop.locator("#said")).to_have_text(f"BEN has set mouths of {CAST[2]}.")
    seen = asked(desktop, "desk.model.voices[2].pins")

    assert seen == pins


def test_doubts_of_all_voices_are_gone_through_and_a_word_is_right(desktop):
    doubts = asked(desktop, "desk.model.doubts().map((one) => [one.doubt, one.word.text])")
    desktop.keyboard.press("n")
    first = desktop.inner_text("#said")
    desktop.keyboard.press("r")
    until(desktop, f"desk.model.doubts().length === {len(doubts) - 1}")
    second = desktop.inner_text("#said")

    assert len(doubts) > 1
    assert [doubt for doubt, _ in doubts] == sorted((doubt for doubt, _ in doubts), reverse=True)
    assert f"word “{doubts[0][1]}”" in first
    assert f"word “{doubts[1][1]}”" in second
    assert f"doubt {doubts[1][0]:.2f}" in second


def test_on_a_phone_one_character_is_shown_and_another_chosen(phone):
    before = asked(phone, "desk.view.bands(desk.pick.voice).map((band) => band.voice)")
    phone.locator("#voices button", has_text="PIP").click()
    after = asked(phone, "desk.view.bands(desk.pick.voice).map((band) => band.voice)")

    assert (before, after) == ([0], [CAST.index("PIP")])


def test_the_words_as_text_name_frames_sounds_and_mouths_and_select(desktop, desk):
    desktop.locator("summary").click()
    row = desktop.locator("#words tr").first
    row.wait_for()
    cells = row.locator("td").all_inner_texts()
    row.locator("button").click()
    said = desktop.inner_text("#said")

    first = desk.shot()["voices"][0]["words"][0]
    assert cells[0] == f"{first['first'] + 1}–{first['stop']}"
    assert said.startswith("BRACK, word “Mind”")


def test_what_is_played_of_a_frame_are_the_samples_of_the_mix(desktop):
    """The wave begins with the shot's first frame: a frame's samples lie where core/timebase.py counts them."""
    until(desktop, "desk.sound.loaded === desk.clock.samples")
    told = desktop.evaluate(HEARD)

    assert told["wrong"] == []
    assert told["frames"] == FRAMES


@pytest.mark.parametrize("speed", [Fraction(1), Fraction(-1), Fraction(33, 32), Fraction(-2)])
def test_the_page_counts_the_frames_of_a_take_as_the_clock_of_its_placement_does(desktop, speed):
    """At 44.1 kHz and 23.976 a second no frame begins with a sample; backwards a sample begins with its later end."""
    rate = FrameRate(Fraction(24000, 1001))
    sound = Sound("ab" * 32, 44_100, Sample(441_000))
    source = Source(Fraction(0))
    one = Placement(
        source, Frame(7), Frame(50), ("A",), Place("", item="by hand"), speed, sound=sound, start=Fraction(9, 2)
    )
    clock = clock_of_placement(one, rate)
    samples, frames = range(-5000, 5000, 171), range(20)
    told = {"per": clock.per, "offset": clock.offset, "scale": clock.scale}
    counted = desktop.evaluate(COUNTED, [told, list(samples), list(frames)])
    first = [clock.sample(frame, 1) + (speed < 0) for frame in frames]

    assert counted["frames"] == [clock.frame(sample) for sample in samples]
    assert counted["edges"] == first


COUNTED = """
async ([told, samples, frames]) => {
  const { Placed } = await import('/static/shot-time.js');
  const placed = new Placed(told, null, { sampleRate: 48000, num: 24000, den: 1001 });
  return { frames: samples.map((one) => placed.frameOf(one)), edges: frames.map((one) => placed.edgeOn(one)) };
}
"""


HEARD = """
async () => {
  const { desk } = await import('/static/shot.js');
  const { exactly } = await import('/static/take-sound.js');
  const bytes = await (await fetch(desk.sound.path)).arrayBuffer();
  const mix = new Int16Array(bytes, bytes.byteLength - 2 * desk.clock.samples);
  const wrong = [];
  for (let frame = 0; frame < desk.clock.frames; frame += 1) {
    const [first, stop] = desk.clock.span(frame);
    const context = new OfflineAudioContext(1, stop - first + 64, 48000);
    exactly(context, desk.sound.buffer, first, stop).connect(context.destination);
    const heard = (await context.startRendering()).getChannelData(0);
    const same = heard.subarray(0, stop - first).every((value, k) => value === mix[2000 * frame + k] / 32768);
    if (!same || heard.subarray(stop - first).some((value) => value !== 0)) wrong.push(frame);
  }
  return { wrong, frames: desk.clock.frames };
}
"""


def test_axe_finds_nothing(page):
    found = Axe().run(page)["violations"]
    for key in ("p", "p", "p", "ArrowRight", "Enter"):
        page.keyboard.press(key)
    page.wait_for_selector("#mouths[open]")
    in_box = Axe().run(page)["violations"]

    page.keyboard.press("Escape")

    assert [one["id"] for one in (*found, *in_box)] == []
