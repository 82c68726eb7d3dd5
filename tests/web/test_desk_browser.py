"""A take at the desk in a real browser: its edges and parts, and what two editors do to it at once.

Each test has a take of its own on one server.
"""

import pytest

from tests.web.desk_pages import (
    FRAME,
    a_page,
    asked,
    cuts,
    place_of_cut,
    to_take,
    until,
)
from tests.web.desks import PHONES, a_desk, serving
from tests.web.more_takes import more_takes
from trackread.book.corrections import append_correction, corrections


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    with serving(a_desk(tmp_path_factory.mktemp("desk"))) as desk:
        yield desk


@pytest.fixture(scope="module")
def names(desk, tmp_path_factory):
    """Takes that nobody has touched."""
    return iter(more_takes(desk.book, tmp_path_factory.mktemp("more") / "reel", count=30))


@pytest.fixture
def take(names):
    return next(names)


@pytest.fixture(params=["desktop", "phone"], scope="module")
def opened(request, browser):
    """A page, on a large screen and on a small one."""
    with a_page(browser, request.param) as page:
        yield page


@pytest.fixture
def page(opened, desk, take):
    """The page of a take that nobody has touched."""
    return to_take(opened, desk.address, take)


def drag(page, cut, frames, *, column="word", modifier=None):
    """Drags an edge down by so many frames, two thirds of a row more, so that snapping is seen."""
    page.locator("#stage").scroll_into_view_if_needed()
    x, y = place_of_cut(page, cut, column)
    row = asked(page, f"{FRAME} / desk.view.perPixel")
    page.mouse.move(x, y)
    page.mouse.down()
    if modifier:
        page.keyboard.down(modifier)
    for part in (0.3, 0.7, 1):
        page.mouse.move(x, y + part * frames * row)
    page.mouse.up()
    if modifier:
        page.keyboard.up(modifier)


def test_an_edge_is_dragged_by_frames_undone_and_redone(page, desk, take):
    """Edge 5 lies between the words Mind and the; the sound before it is a frame long, and keeps a sample at least."""
    drag(page, 5, 0.6)
    moved = cuts(page)
    page.keyboard.press("Control+z")
    back = cuts(page)
    page.keyboard.press("Control+Shift+Z")

    assert moved[5] == 6 * FRAME - 1
    assert back == [FRAME * k for k in range(PHONES + 1)]
    assert cuts(page) == moved
    assert {note.author for note in corrections(desk.book, take)} == {"ANN"}


def test_with_alt_an_edge_goes_freely(page):
    drag(page, 9, 0.3, column="sound", modifier="Alt")
    moved = cuts(page)[9]

    assert 9 * FRAME < moved < 10 * FRAME
    assert moved % FRAME


def test_arrows_nudge_a_selected_edge_by_a_sample_and_write_once(page, desk, take):
    page.keyboard.press("]")
    for _ in range(3):
        page.keyboard.press("Alt+ArrowDown")
    page.keyboard.press("Escape")
    asked(page, "desk.model.settle()")

    assert cuts(page)[5] == 5 * FRAME + 3
    assert len(corrections(desk.book, take)) == 1


def test_a_word_is_written_otherwise_and_its_stress_set(page):
    page.keyboard.press("Enter")
    page.fill("#ask-text", "Mine")
    page.keyboard.press("Enter")
    page.wait_for_selector("#ask:not([open])", state="attached")
    page.keyboard.press("1")

    assert asked(page, "desk.model.take.words[0].text") == "Mine"
    assert asked(page, "desk.model.take.syllables[0].stress") == 1


def test_a_sound_is_split_and_joined_again(page):
    page.keyboard.press("p")
    page.keyboard.press("p")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("x")
    page.keyboard.press("Enter")
    until(page, f"desk.model.take.phones.length === {PHONES + 1}")
    page.keyboard.press("g")

    assert cuts(page) == [FRAME * k for k in range(PHONES + 1)]


def test_a_note_is_written_on_the_frame_and_a_word_pinned(page):
    page.locator("#words button").first.click()
    page.focus("#stage")
    page.keyboard.press("m")
    page.fill("#ask-text", "a jolt")
    page.keyboard.press("Enter")
    until(page, "desk.model.take.notes.length")
    page.keyboard.press("i")

    assert asked(page, "desk.model.take.notes") == [{"sample": FRAME, "text": "a jolt"}]
    assert asked(page, "desk.model.take.pins") == [FRAME]


def test_the_page_is_seen_from_the_whole_take_to_the_sample(page):
    page.keyboard.press("a")
    whole = asked(page, "[desk.view.top, desk.view.bottom]")
    page.keyboard.press("Shift+Z")
    closest = asked(page, "desk.view.perPixel")

    assert whole[0] <= 0
    assert whole[1] >= PHONES * FRAME
    assert closest < 1


def test_the_whole_of_the_words_is_there_as_text(page):
    rows = page.locator("#words tr").all_inner_texts()
    page.locator("#words button").nth(2).click()

    assert [row.split()[0] for row in rows] == ["Mind", "the", "step,", "ticket!"]
    assert page.inner_text("#said").startswith("Word 3 of 4, “step,”")


def test_a_second_editor_is_seen_and_a_clash_shows_both_versions(page, desk, take):
    asked(page, "Object.assign(desk.model, { load: async () => {} })")  # this page has not heard of it yet
    right = {"kind": "right", "word": {"sample": 5 * FRAME, "text": "the"}, "words": "'the' is right"}
    append_correction(desk.book, take, right, "BEN", after=0)
    page.keyboard.press("2")
    page.keyboard.press("1")
    page.wait_for_selector("#tell[open]")
    told = page.inner_text("#tell-body")

    assert "BEN" in told
    assert "'the' is right" in told
    assert "the syllable of the sound 'eye' of 'Mind'" in told


def test_what_another_editor_does_is_seen_at_once(page, desk, take):
    etag = desk.get(f"/api/takes/{take}").headers["etag"]
    desk.post(
        f"/api/takes/{take}/corrections",
        json={"kind": "respell", "word": 0, "text": "Mine"},
        headers={"If-Match": etag, "X-Visitor": "editor BEN"},
    )
    page.wait_for_function("document.getElementById('said').textContent.startsWith('BEN')")

    assert page.locator("#words button").first.inner_text() == "Mine"


def test_what_is_moved_while_another_writes_is_never_put_on_another_part(page, desk, take):
    """The edge is written on the revision that was seen, though the page has learnt of a later one since."""
    asked(page, "desk.model.show(5, 11000)")
    etag = desk.get(f"/api/takes/{take}").headers["etag"]
    desk.post(f"/api/takes/{take}/corrections", json={"kind": "join", "phone": 2}, headers={"If-Match": etag})
    asked(page, "(desk.model.queue = desk.model.queue.then(() => desk.model.load()), desk.model.settle())")

    assert page.locator("#tell[open]").count() == 1
    assert len(corrections(desk.book, take)) == 1


def test_an_edge_is_dragged_with_a_finger_and_the_page_stays_where_it_is(browser, desk, take):
    """Chromium's own touches, as the screen of a tablet gives them."""
    with a_page(browser, "tablet") as page:
        to_take(page, desk.address, take)
        before = asked(page, "[desk.view.top, scrollY]")
        x, y = place_of_cut(page, 9, "sound")
        row = asked(page, f"{FRAME} / desk.view.perPixel")
        touch(page, (x, y + 10), (x, y + 20), (x, y + 10 + 0.7 * row))
        moved = cuts(page)
        after = asked(page, "[desk.view.top, scrollY]")

    assert moved[9] == 10 * FRAME - 1
    assert after == before
    assert len(corrections(desk.book, take)) == 1


def test_a_finger_beside_the_edges_scrolls_and_two_come_closer(browser, desk, take):
    with a_page(browser, "tablet") as page:
        to_take(page, desk.address, take)
        asked(page, "desk.run('zoom-in'), desk.run('zoom-in'), desk.run('zoom-in')")
        x, y = place_of_cut(page, 1)
        before = asked(page, "[desk.view.top, desk.view.perPixel]")
        touch(page, (x, y + 300), (x, y + 280), (x, y + 200))
        scrolled = asked(page, "[desk.view.top, desk.view.perPixel]")
        pinch(page, x, y + 200)
        closer = asked(page, "desk.view.perPixel")

    assert scrolled[0] > before[0]
    assert scrolled[1] == before[1] == pytest.approx(2 * closer, rel=0.01)
    assert corrections(desk.book, take) == ()


def touch(page, *places):
    """A finger that goes down at the first place, over the others, and up at the last."""
    line = page.context.new_cdp_session(page)
    for kind, place in [("touchStart", places[0]), *(("touchMove", place) for place in places[1:])]:
        line.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": place[0], "y": place[1]}]})
    line.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def pinch(page, x, y):
    """Two fingers that go to twice as far from each other."""
    line = page.context.new_cdp_session(page)
    for kind, far in [("touchStart", 40), ("touchMove", 60), ("touchMove", 80)]:
        points = [{"x": x, "y": y - far, "id": 0}, {"x": x, "y": y + far, "id": 1}]
        line.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    line.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
