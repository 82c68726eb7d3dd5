"""Tablets and phones on the floor: a real browser at the pages of tests/web/floors.py."""

from contextlib import contextmanager

from axe_core_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.web.floors import served
from trackread.book.shooting import counts_of

PHONE, TABLET, UPRIGHT = (390, 844), (1024, 768), (768, 1024)
SOON = 2000  # milliseconds in which a page must show what has happened


@contextmanager
def tablets(app, browser):
    """Makes tablets or phones of unit 7's; whatever goes wrong on their pages fails the test."""
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


class Finger:
    """A finger on a page (Chrome DevTools Protocol, Input.dispatchTouchEvent): down, moving, up."""

    def __init__(self, page):
        self.page, self.line = page, page.context.new_cdp_session(page)

    def down_on(self, part):
        """Comes down in the middle of a part of the page."""
        self.page.locator(part).scroll_into_view_if_needed()
        box = self.page.locator(part).bounding_box()
        self.at = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        self.touch("touchStart", self.at)

    def moves(self, right, down, steps=10):
        x, y = self.at
        for step in range(1, steps + 1):
            self.touch("touchMove", (x + right * step / steps, y + down * step / steps))

    def up(self):
        self.touch("touchEnd")

    def touch(self, kind, *places):
        self.line.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x, "y": y} for x, y in places]})


def opened(page):
    """The page of the first shot, its sheet and sound there."""
    page.goto("/floor/SH010")
    expect(page.locator("#hear-frame")).to_be_enabled()
    return page


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
