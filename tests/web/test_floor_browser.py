"""The floor in a real browser: frames told with a finger or a key, taken back, kept without a network."""

import pytest
from playwright.sync_api import expect

from tests.web import served as real
from tests.web.floors import issue, later, shot
from tests.web.tablets import PHONE, SOON, TABLET, Finger, done, kept, opened, told
from trackread.workflow.keys import make_key

SIZES = pytest.mark.parametrize("size", [PHONE, TABLET], ids=["phone", "tablet"])


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


def test_frame_done_stays_under_the_thumb_whatever_stands_on_the_frame(tablet):
    with tablet(TABLET) as page:
        opened(page)
        heights, places = set(), set()
        for _ in range(16):
            done(page)
            heights.add(page.locator("#now").bounding_box()["height"])
            places.add(tuple(page.locator("#done").bounding_box().values()))

        assert len(heights) > 1
        assert len(places) == 1


def test_a_finger_that_stays_tells_one_frame_and_one_that_moves_the_page_tells_none(tablet, film):
    with tablet(PHONE) as page:
        opened(page)
        finger = Finger(page)
        finger.down_on("#done")
        page.wait_for_timeout(900)
        finger.up()
        expect(page.locator("#number")).to_have_text("2")
        finger.down_on("#done")
        finger.moves(0, -200)
        finger.up()
        expect(page.locator("summary")).to_be_in_viewport()
        told(page)

        assert (shot(film), kept(film)) == (1, [1])


def test_loudness_is_set_by_a_finger_and_kept(tablet):
    with tablet(PHONE) as page:
        opened(page)
        page.locator("summary").tap()
        before = float(page.locator("#loudness").input_value())
        finger = Finger(page)
        finger.down_on("#loudness")
        finger.moves(80, 0)
        finger.up()
        after = float(page.locator("#loudness").input_value())
        opened(page)

        assert after > before
        assert float(page.locator("#loudness").input_value()) == after


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
        later(server.book)
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
