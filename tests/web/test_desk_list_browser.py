"""The list of takes in a real browser: doubts gone through, takes heard from it, circled, weighed against each other.

L0001-1 to -4 are takes of BRACK's line; the third leaves out its two words in the middle.
"""

import pytest
from playwright.sync_api import expect

from tests.makers import a_reading
from tests.web.desk_pages import FRAME, a_page, asked, to_take, until
from tests.web.desks import PHONES, a_desk, read_by_hand, serving
from tests.web.more_takes import more_takes
from tests.web.served import served
from trackread.book.corrections import corrections
from trackread.book.takes import take_named
from trackread.workflow.keys import make_key

HEARD = "(await import('/static/desk.js')).weighing"


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    folder = tmp_path_factory.mktemp("desk")
    with serving(a_desk(folder)) as desk:
        third, _ = more_takes(desk.book, folder / "more", count=2)
        lengths = [2 * FRAME] * (PHONES // 2) + [FRAME] * (PHONES % 2)
        said = [("Mind", "M AY1 N D"), ("ticket!", "T IH1 K")]
        read_by_hand(desk.book, third, a_reading(*said, lengths=lengths, sample_rate=48_000), engine="2")
        yield desk


@pytest.fixture
def page(browser, desk):
    with a_page(browser) as page:
        page.goto(f"{desk.address}/desk")
        page.wait_for_selector(".line")
        yield page


def weighed(page, expression):
    """What an expression of what is weighed is."""
    return page.evaluate(f"async () => {{ const it = {HEARD}; return {expression}; }}")


@pytest.fixture
def weighing(page):
    """The takes of L0001, opened to be weighed by a key."""
    page.focus("#open-L0001-1")
    page.keyboard.press("v")
    page.wait_for_selector(".weigh-takes")
    page.evaluate(f"async () => {{ await Promise.all({HEARD}.takes.map((take) => take.coming)); }}")
    return page


def test_the_list_has_lines_and_finds_some(page):
    lines = page.locator(".line h3").all_inner_texts()
    page.fill("#find", "pell")

    assert lines == ["L0001 BRACK Mind the step, ticket!", "L0002 MISS PELL Tickets please"]
    assert page.locator(".line").count() == 1


def test_keys_go_from_take_to_take_and_circle_the_one_that_is_reached(page, desk):
    for _ in range(3):
        page.keyboard.press("ArrowDown")
    page.keyboard.press("c")
    page.wait_for_selector("[aria-label='Circle L0001-3'][aria-pressed=true]")
    focused = page.evaluate("document.activeElement.id")
    page.keyboard.press("c")
    page.wait_for_selector("[aria-label='Circle L0001-3'][aria-pressed=false]")

    assert focused == "open-L0001-3"
    assert not take_named(desk.book, "L0001-3").circled


def test_a_take_is_heard_from_the_list_and_stopped(page):
    page.focus("#open-L0001-2")
    page.keyboard.press("t")
    page.wait_for_selector("[aria-label='Stop L0001-2']")
    page.click("[aria-label='Stop L0001-2']")

    expect(page.locator("[aria-label='Hear L0001-2']")).to_be_focused()


def test_takes_are_changed_at_the_word_that_is_heard(weighing):
    """Sound stands still while the place is asked; the third take says neither "the" nor "step,"."""
    weighing.keyboard.press("1")
    weighing.keyboard.press("ArrowRight")
    weighing.keyboard.press("ArrowRight")
    expect(weighing.locator(".weigh-word[aria-current]")).to_have_text("step,")
    weighing.keyboard.press("2")
    second = weighed(weighing, "[it.heard, it.words[it.word], it.at(it.takes[1], it.word)]")
    weighing.keyboard.press("3")
    expect(weighing.locator(".weigh-hear[aria-pressed=true]")).to_contain_text("L0001-3")
    expect(weighing.locator(".weigh-told")).to_have_text("L0001-3, at “Mind”")
    third = weighed(weighing, "[it.heard, it.words[it.word], it.takes[2].sound.isPlaying]")
    weighing.keyboard.press("k")

    assert second == [1, "step,", [2, 7 * FRAME, 11 * FRAME]]
    assert third == [2, "Mind", True]
    assert weighing.locator(".weigh-word.unsaid").all_inner_texts() == ["the", "step,"]


def test_a_word_is_heard_again_and_again_in_one_take_and_then_in_another(weighing):
    weighing.keyboard.press("1")
    weighing.keyboard.press("ArrowRight")
    weighing.keyboard.press("o")
    weighing.keyboard.press("2")
    expect(weighing.locator("#weigh-loop")).to_have_attribute("aria-pressed", "true")
    weighing.wait_for_timeout(400)
    heard = weighed(weighing, "[it.heard, it.words[it.word], it.takes[1].sound.position]")
    weighing.keyboard.press("k")

    assert heard[:2] == [1, "the"]
    assert 5 * FRAME <= heard[2] < 7 * FRAME


def test_takes_that_are_ticked_are_heard_in_turn(weighing):
    weighing.locator(".weigh-takes input").nth(1).uncheck()
    weighing.locator(".weigh").focus()
    weighing.evaluate(f"async () => {{ const it = {HEARD}; window.heard = [];"
        " for (const take of it.takes) take.sound.addEventListener('change', () => {"
        " if (take.sound.isPlaying) window.heard.push(take.name); }); }")  # fmt: skip
    weighing.keyboard.press("b")
    weighing.wait_for_function("window.heard.length === 3")

    assert weighing.evaluate("window.heard") == ["L0001-1", "L0001-3", "L0001-4"]


def test_the_take_that_is_heard_is_circled_by_key_and_the_list_shows_it(weighing, desk):
    weighing.keyboard.press("2")
    expect(weighing.locator(".weigh-hear[aria-pressed=true]")).to_contain_text("L0001-2")
    weighing.keyboard.press("c")
    weighing.wait_for_selector("[aria-label='Circle L0001-2'][aria-pressed=true]")
    circled = take_named(desk.book, "L0001-2").circled
    weighing.keyboard.press("c")
    weighing.wait_for_selector("[aria-label='Circle L0001-2'][aria-pressed=false]")
    weighing.keyboard.press("v")

    assert circled
    expect(weighing.locator(".weigh")).to_have_count(0)
    expect(weighing.locator("#weigh-L0001")).to_be_focused()


def test_what_is_weighed_passes_the_limiter_at_half_the_level_at_first(weighing):
    weighing.keyboard.press("1")
    expect(weighing.locator(".weigh-hear[aria-pressed=true]")).to_contain_text("L0001-1")
    level = weighed(weighing, "it.output.gain.gain.value")
    weighing.fill("#level", "20")
    less = weighed(weighing, "it.output.gain.gain.value")

    assert (level, less) == (0.5, pytest.approx(0.2))


def test_whoever_presses_right_faster_than_it_is_written_says_it_of_each_word(browser, tmp_path):
    with serving(a_desk(tmp_path)) as desk, a_page(browser) as page:
        to_take(page, desk.address, "L0001-1")
        for key in "nrr":
            page.keyboard.press(key)
        until(page, "!desk.model.doubts().length")
        words = [note.words for note in corrections(desk.book, "L0001-1")]

    assert words == ["'ticket!' on frame 13 is right", "'the' on frame 6 is right"]


@pytest.mark.parametrize("size", ["desktop", "phone"])
def test_doubts_are_gone_through_with_two_keys(browser, tmp_path, size):
    with serving(a_desk(tmp_path)) as desk, a_page(browser, size) as page:
        page.goto(f"{desk.address}/desk")
        page.wait_for_selector("#worst:not([disabled])")
        page.keyboard.press("n")
        page.wait_for_selector("#stage[data-ready]")
        page.focus("#stage")
        said, counts = [page.inner_text("#said")], [page.inner_text("#left")]
        for begins in ("1 ", "No"):
            page.keyboard.press("r")
            page.wait_for_function(f"document.getElementById('left').textContent.startsWith('{begins}')")
            said.append(page.inner_text("#said"))
            counts.append(page.inner_text("#left"))
        left = desk.get("/api/doubts").json()["left"]

    assert counts == ["2 places to hear", "1 place to hear", "No doubt is left"]
    assert said[0].startswith("Word 4 of 4, “ticket!”")
    assert said[1].startswith("Word 2 of 4, “the”")
    assert left == 0


def test_the_productions_own_keys_count_on_every_page_and_are_shown(browser, desk):
    own = desk.book.folder / "desk-keys.toml"
    own.write_text('next-doubt = "d"\nweigh = "y"\nvoice-on = "x"\ndance = "u"\n')
    with a_page(browser) as page:
        to_take(page, desk.address, "L0001-1")
        page.keyboard.press("d")
        said, amiss = page.inner_text("#said"), page.inner_text("#amiss")
        page.keyboard.press("?")
        keys = page.inner_text("#tell-body")
        page.goto(f"{desk.address}/desk")
        page.wait_for_selector(".line")
        page.keyboard.press("y")
        page.wait_for_selector(".weigh-takes")
    own.unlink()

    assert said.startswith("Word 4")
    assert amiss == "desk-keys.toml: there is no action dance"
    assert "D\tNext place worth hearing" in keys


def test_before_the_first_sound_somebody_is_told_of_ears(browser, desk):
    with a_page(browser) as page:
        page.add_init_script("localStorage.removeItem('trackread-ears')")
        to_take(page, desk.address, "L0001-1")
        page.keyboard.press("f")
        page.wait_for_selector("#tell[open]")
        page.click("#tell-yes")
        page.wait_for_selector("#tell:not([open])", state="attached")
        page.focus("#stage")
        page.keyboard.press("t")
        until(page, "desk.sound.isPlaying")
        level = asked(page, "desk.sound.output.gain.gain.value")

    assert level <= 0.5


def test_the_desk_works_behind_the_whole_server_with_its_rules_for_content(browser, tmp_path):
    with served(a_desk(tmp_path)) as server, a_page(browser) as page:
        key = make_key(server.book, "editor", "ANN", "", "ANN").text
        said = []
        page.on("console", lambda message: said.append(message.text))
        page.goto(f"{server.address}/desk")
        page.fill("#key", key)
        page.keyboard.press("Enter")
        page.wait_for_selector("#worst:not([disabled])")
        page.keyboard.press("n")
        page.wait_for_selector("#stage[data-ready]")
        until(page, "desk.sound.loaded === desk.clock.samples")
        page.focus("#stage")
        page.keyboard.press("e")
        until(page, "[...desk.painter.spectrum.tiles.all()].length")
        page.keyboard.press("r")
        expect(page.locator("#left")).to_have_text("1 place to hear")
        page.wait_for_timeout(1500)  # the server looks in the book each half second for what others did
        told = page.inner_text("#said")
        written = corrections(server.book, "L0001-1")

    assert [note.author for note in written] == ["ANN"]
    assert said == []
    assert told.startswith("Word 2 of 4")
