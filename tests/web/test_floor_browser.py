"""The floor in a real browser, on a phone and on a tablet: frames told, taken back, kept without a network; STALE."""

import shutil
from contextlib import contextmanager

import pytest
from axe_core_python.sync_playwright import Axe
from playwright.sync_api import expect, sync_playwright

from tests.films import FRAME
from tests.web import served as real
from tests.web.floors import a_floor, add_cut, floor_app, give_samples, issue, served
from trackread.book.book import Book
from trackread.book.shooting import counts_of
from trackread.workflow.correcting import correct, move
from trackread.workflow.keys import make_key
from trackread.workflow.shot_list import shot_list

CHROMIUM = "/usr/bin/chromium"
PHONE, TABLET = (390, 844), (1024, 768)
SIZES = pytest.mark.parametrize("size", [PHONE, TABLET], ids=["phone", "tablet"])
SOON = 2000  # milliseconds in which a page must show what has happened


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return a_floor(tmp_path_factory.mktemp("floor"))


@pytest.fixture(scope="module")
def browser():
    if not shutil.which(CHROMIUM):
        pytest.skip(f"there is no {CHROMIUM}")
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield found
        found.close()


@pytest.fixture
def film(made, tmp_path):
    with Book.open(shutil.copytree(made, tmp_path / "tram")) as book:
        give_samples(book)
        add_cut(book, tmp_path)
        issue(book)
        yield book


@pytest.fixture
def app(film):
    return floor_app(film)


@pytest.fixture
def tablet(app, browser):
    """Makes a tablet or phone of unit 7's; whatever goes wrong on its pages fails the test."""
    wrong = []
    with served(app) as address:

        @contextmanager
        def tablet(size):
            width, height = size
            context = browser.new_context(base_url=address, viewport={"width": width, "height": height}, has_touch=True)
            context.set_default_timeout(5000)
            context.add_cookies([{"name": "who", "value": "unit:7", "url": address}])
            page = context.new_page()
            page.on("pageerror", lambda error: wrong.append(str(error)))
            yield page
            context.close()

        yield tablet
    assert wrong == []


def opened(page):
    """The page of the first shot, its sheet and sound there."""
    page.goto("/floor/SH010")
    expect(page.locator("#hear-frame")).to_be_enabled()
    return page


def shot(book, name="SH010"):
    return next(one.done for one in shot_list(book, None) if one.name == name)


def kept(book):
    """The counts that the server has of the first shot."""
    return [one.count for one in counts_of(book, "SH010", "done").floor]


def told(page):
    expect(page.locator("#network")).to_have_text("all told")


def done(page, count=1):
    for _ in range(count):
        page.locator("#done").tap()


def axe_problems(page):
    # What is not wrong by WCAG 2.2 A and AA, and by axe's own best practices.
    return [(one["id"], [node["html"] for node in one["nodes"]]) for one in Axe().run(page)["violations"]]


@SIZES
def test_frame_done_steps_on_and_undo_steps_back_and_the_office_knows(tablet, film, size):
    with tablet(size) as page:
        opened(page)
        expect(page.locator("#number")).to_have_text("1")
        done(page, 3)
        expect(page.locator("#number")).to_have_text("4")
        told(page)
        assert (shot(film), kept(film)) == (3, [1, 2, 3])
        page.locator("#undo").tap()
        expect(page.locator("#number")).to_have_text("3")
        told(page)

        assert (shot(film), kept(film)) == (2, [1, 2, 3, 2])


def test_the_space_key_is_frame_done_also_after_a_finger_on_another_button(tablet, film):
    with tablet(TABLET) as page:
        opened(page)
        page.keyboard.press("Space")
        page.keyboard.press("Space")
        page.keyboard.press("Backspace")
        page.locator("#down").tap()
        expect(page.locator("#where")).to_contain_text("not shot yet; 2 is being shot")
        page.keyboard.press("Space")
        expect(page.locator("#number")).to_have_text("3")
        told(page)

        assert shot(film) == 2


def test_a_row_says_what_is_said_and_worn_and_shows_it(tablet):
    with tablet(TABLET) as page:
        opened(page)
        page.locator("summary").tap()
        page.locator("#to").fill("12")
        page.get_by_role("button", name="Go", exact=True).tap()
        brack = page.locator(".voice", has_text="BRACK")
        picture = brack.locator("img")
        expect(brack).to_contain_text("Mind")
        expect(brack.locator("figcaption")).to_have_text("lips shut")
        expect(picture).to_have_count(1)

        assert picture.evaluate("it => it.naturalWidth") > 0
        page.locator("#beat").tap()
        expect(page.locator("#now .beat")).to_have_count(1)


@SIZES
def test_stale_is_seen_within_two_seconds_of_a_new_issue_and_the_new_sheet_can_be_taken(tablet, film, app, size):
    with tablet(size) as page:
        opened(page)
        done(page, 2)
        told(page)
        correct(film, "L0001-1", move("ticket!", 13), "ANN")
        (new,) = issue(film, "SH010", unit="", reason="later")
        app.state.live.tell("issued", {"kind": "issued", "shot": "SH010", "issue": 2, "unit": "7", "code": new.code})
        expect(page.locator("#stale-word")).to_be_visible(timeout=SOON)
        expect(page.locator("#stale-why")).to_contain_text("is replaced by issue 2 from frame", timeout=SOON)
        expect(page.locator("#stale-told li").first).to_be_visible(timeout=SOON)
        box = page.locator("#stale").bounding_box()
        assert (box["x"], box["width"]) == (0, size[0])
        assert axe_problems(page) == []
        # Loaded anew it is still the sheet that is being shot from, and still stale.
        page.reload()
        expect(page.locator("#stale-word")).to_be_visible()
        page.locator("#take").tap()
        expect(page.locator("#stale")).to_be_hidden()
        expect(page.locator("#issue")).to_contain_text(f"issue 2 of 2026-11-26, {new.code}")
        expect(page.locator("#number")).to_have_text("3")
        done(page)
        told(page)

        assert shot(film) == 3


@SIZES
def test_without_a_network_frames_are_counted_and_told_later_each_once(tablet, film, size):
    with tablet(size) as page:
        opened(page)
        done(page, 2)
        told(page)
        page.context.set_offline(True)
        done(page, 4)
        page.locator("#undo").tap()
        expect(page.locator("#number")).to_have_text("6")
        expect(page.locator("#network")).to_contain_text("5 not told yet")
        expect(page.locator("#network")).to_contain_text("no network")
        assert (shot(film), kept(film)) == (2, [1, 2])
        page.locator("#hear-frame").tap()
        expect(page.locator("#ears")).to_be_visible()
        page.locator("#ears-done").tap()
        page.context.set_offline(False)
        told(page)

        assert (shot(film), kept(film)) == (5, [1, 2, 3, 4, 5, 6, 5])


def test_what_was_not_told_when_the_tablet_was_switched_off_is_told_when_it_is_on_again(tablet, film):
    with tablet(TABLET) as page:
        opened(page)
        page.context.set_offline(True)
        done(page, 3)
        expect(page.locator("#network")).to_contain_text("3 not told yet")
        page.goto("about:blank")
        page.context.set_offline(False)
        opened(page)
        expect(page.locator("#number")).to_have_text("4")
        told(page)

        assert (shot(film), kept(film)) == (3, [1, 2, 3])


def test_an_answer_that_is_lost_makes_no_frame_count_twice(tablet, film):
    with tablet(TABLET) as page:
        opened(page)
        lost = []

        def lose_answer(route):
            route.fetch()  # the server has it
            lost.append(route)
            route.abort()

        page.route("**/frames*", lose_answer, times=2)
        done(page, 2)
        expect(page.locator("#number")).to_have_text("3")
        told(page)

        assert len(lost) == 2
        assert (shot(film), kept(film)) == (2, [1, 2])


def test_two_tablets_lose_no_frame_and_agree_in_the_end(tablet, film):
    with tablet(TABLET) as one, tablet(PHONE) as other:
        opened(one)
        opened(other)
        other.context.set_offline(True)
        done(other, 4)
        done(one, 2)
        one.locator("#undo").tap()
        told(one)
        other.context.set_offline(False)
        told(other)
        expect(one.locator("#number")).to_have_text("5", timeout=SOON)
        expect(other.locator("#number")).to_have_text("5")
        one.locator("#undo").tap()
        expect(other.locator("#number")).to_have_text("4", timeout=SOON)

        assert shot(film) == 3


def test_the_samples_of_a_frame_and_of_no_other_are_played(tablet):
    with tablet(TABLET) as page:
        opened(page)
        heard = page.evaluate(
            """async (frame) => {
              const { RATE, firstSample, playOn } = await import("/static/floor_sound.js");
              const bytes = await (await fetch("/api/floor/SH010/sound")).arrayBuffer();
              const buffer = await new OfflineAudioContext(1, 1, RATE).decodeAudioData(bytes);
              const [first, stop] = [firstSample(frame, [24, 1]), firstSample(frame + 1, [24, 1])];
              const context = new OfflineAudioContext(1, RATE, RATE);
              playOn(context, buffer, { first, stop, loudness: 1, at: 0 });
              const out = (await context.startRendering()).getChannelData(0);
              const own = buffer.getChannelData(0).subarray(first, stop);
              const inside = [...own.keys()].slice(200, own.length - 200);
              return {
                length: own.length,
                worst: Math.max(...inside.map((k) => Math.abs(out[k] - own[k] / 2))),
                after: Math.max(...out.subarray(own.length).map(Math.abs)),
                most: Math.max(...out.map(Math.abs)),
                ends: [Math.abs(out[0]), Math.abs(out[own.length - 1])],
                sounds: Math.max(...own.map(Math.abs)),
              };
            }""",
            15,
        )

        assert heard["length"] == FRAME
        # 24 bits of a float32's fraction.
        assert heard["worst"] < 2**-23
        assert (heard["after"], heard["most"] <= 0.5, heard["sounds"] > 0.01) == (0, True, True)
        assert max(heard["ends"]) < 0.01


@SIZES
@pytest.mark.parametrize("look", ["dark", "paper"])
def test_axe_finds_nothing_and_every_target_is_large(tablet, size, look):
    with tablet(size) as page:
        page.goto("/floor")
        expect(page.get_by_role("link", name="SH010")).to_be_visible()
        if look == "paper":
            page.get_by_role("button", name="Paper white").tap()
        assert axe_problems(page) == []
        opened(page)
        assert page.locator("html").get_attribute("data-look") == look
        page.locator("#down").tap()
        assert axe_problems(page) == []
        page.locator("summary").tap()
        assert axe_problems(page) == []
        sizes = page.locator("button:visible, a:visible:not(.skip), input:visible, summary").evaluate_all(
            """every => every.map((it) => {
              const { width, height } = it.getBoundingClientRect();
              return [it.id || it.textContent, width, height];
            })"""
        )

        assert len(sizes) > 12
        assert [(name, width, height) for name, width, height in sizes if min(width, height) < 48] == []
        assert page.locator("#done").bounding_box()["height"] >= 96
        assert page.evaluate("document.documentElement.scrollWidth") <= size[0]


def test_a_code_that_is_typed_tells_whether_the_sheet_is_current(tablet, film):
    with tablet(PHONE) as page:
        page.goto("/floor")
        (first,) = issue(film, "SH010")
        page.locator("#typed").fill(first.code)
        page.get_by_role("button", name="Look it up").tap()
        expect(page.locator("#found")).to_contain_text("CURRENT: SH010, issue 1")
        page.locator("#typed").fill("rubbish")
        page.get_by_role("button", name="Look it up").tap()
        expect(page.locator("#found")).to_contain_text("is not the code of a sheet")


def test_the_list_of_shots_follows_what_happens(tablet):
    with tablet(PHONE) as page:
        page.goto("/floor")
        expect(page.get_by_role("link", name="SH010")).to_contain_text("0 of 48 frames shot")
        with tablet(TABLET) as other:
            opened(other)
            done(other, 2)
            told(other)
        expect(page.get_by_role("link", name="SH010")).to_contain_text("2 of 48 frames shot", timeout=SOON)


def test_on_the_server_itself_a_unit_signs_in_tells_frames_and_sees_an_issue_made_beside_it(film, browser):
    folder = film.folder
    film.close()
    with real.served(folder) as server:
        page = browser.new_page(
            base_url=server.address, viewport={"width": PHONE[0], "height": PHONE[1]}, has_touch=True
        )
        wrong = []
        page.on("console", lambda message: wrong.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.goto("/floor/SH010")
        page.locator("#key").fill(make_key(server.book, "unit", "BO", "7", "ANN").text)
        page.get_by_role("button", name="Sign in").tap()
        expect(page.locator("#hear-frame")).to_be_enabled()
        done(page, 2)
        told(page)
        assert shot(server.book) == 2
        correct(server.book, "L0001-1", move("ticket!", 13), "ANN")
        issue(server.book, "SH010", unit="", reason="later")
        expect(page.locator("#stale-word")).to_be_visible(timeout=SOON)
        page.locator("#take").tap()
        expect(page.locator("#issue")).to_contain_text("issue 2")
        expect(page.locator("#number")).to_have_text("3")
        page.locator("#hear-frame").tap()
        page.locator("#ears-done").tap()
        page.close()

        # Neither the rules of what a page may load nor anything else was broken.
        assert wrong == []
