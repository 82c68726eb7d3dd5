"""How the desk looks in a real browser: for everybody, dark or paper white, and soon and quickly for a long take."""

import pytest

from tests.makers import a_reading
from tests.web.desk_pages import a_page, asked, axe_problems, to_take
from tests.web.desks import a_desk, read_by_hand, serving
from trackread.book.book import Book


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    with serving(a_desk(tmp_path_factory.mktemp("desk"))) as desk:
        yield desk


@pytest.mark.parametrize(("size", "look"), [("desktop", "paper"), ("phone", "dark")])
def test_axe_finds_nothing_and_every_target_is_large(browser, desk, size, look):
    """WCAG 2.2 A and AA and axe's best practices; targets of 48 px are the desk's own promise."""
    with a_page(browser, size) as page:
        to_take(page, desk.address, "L0001-1")
        if look == "dark":
            page.click("#look")
        page.focus("#stage")
        page.keyboard.press("e")
        found, small = [axe_problems(page)], page.evaluate(SMALL)
        page.keyboard.press("?")
        found.append(axe_problems(page))
        page.keyboard.press("Escape")
        page.keyboard.press("Enter")
        found.append(axe_problems(page))
        page.goto(f"{desk.address}/desk")
        page.wait_for_selector(".line")
        page.keyboard.press("v")
        page.wait_for_selector(".weigh-takes")
        found.append(axe_problems(page))
        small += page.evaluate(SMALL)
        shown = page.locator("html").get_attribute("data-look")

    assert found == [[]] * 4
    assert small == []
    assert shown == look


SMALL = """[
  ...document.querySelectorAll("main button, main a, main summary, main label:has([type=checkbox]), #look, #stage"),
].map(
  (one) => [one.textContent, one.getBoundingClientRect()]
).filter(([, box]) => box.width && (box.height < 48 || box.width < 48)).map(([text]) => text)"""


def test_a_page_that_was_made_dark_is_dark_everywhere_until_it_is_made_white_again(browser, desk):
    with a_page(browser) as page:
        to_take(page, desk.address, "L0001-1")
        looks = [look_of(page)]
        page.click("#look")
        looks.append(look_of(page))
        page.goto(f"{desk.address}/desk")
        looks.append(look_of(page))
        to_take(page, desk.address, "L0001-2")
        page.evaluate("async () => (await import('/static/take.js')).desk.painter.draw()")
        corner = asked(page, "[...desk.painter.context.getImageData(1, 1, 1, 1).data]")
        page.click("#look")
        looks.append(look_of(page))
        white = asked(page, "(desk.painter.draw(), [...desk.painter.context.getImageData(1, 1, 1, 1).data])")

    assert looks == [("paper", "Dark"), ("dark", "Paper white"), ("dark", "Paper white"), ("paper", "Dark")]
    assert max(corner[:3]) < 40
    assert min(white[:3]) > 200


def look_of(page):
    return page.locator("html").get_attribute("data-look"), page.inner_text("#look")


def test_a_take_of_ten_minutes_is_there_from_end_to_end(browser, tmp_path):
    """How soon, and how quickly it is drawn, is told by `scripts/bench-desk`."""
    with serving(a_long_desk(tmp_path)) as desk, a_page(browser) as page:
        page.goto(f"{desk.address}/desk/take/L0001-1")
        page.wait_for_selector("#stage[data-ready]")
        page.get_by_role("button", name="step999").click()
        told = asked(page, "[desk.model.take.words.length, desk.view.top < desk.pick.cursor, desk.pick.words()]")

    assert told[:2] == [1000, True]
    assert told[2].startswith("Word 1000 of 1000, “step999”")


def a_long_desk(tmp_path):
    """A take of ten minutes with a thousand words."""
    folder = a_desk(tmp_path, frames=600 * 24)
    words = [(f"step{k}", "S T EH1 P") for k in range(1000)]
    length = 600 * 48_000
    each = 7000
    lengths = [each] * 4001 + [length - 4001 * each]
    with Book.open(folder) as book:
        read_by_hand(book, "L0001-1", a_reading(*words, lengths=lengths, sample_rate=48_000), engine="2")
    return folder
