"""A day at The Late Tram, in a real browser on the real server: from the sign-in to the frame that is shot.

The demo's production is made by the real engines. The editor mends a take and issues its sheet; the animator, whose
tablet shows the sheet before it, sees it become stale, takes the new one, and shoots on without a network.
"""

import re
import shutil
from datetime import date

import pytest
from axe_core_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.web.served import becomes, served
from trackread.core.correction import Right
from trackread.core.timebase import parse_rate
from trackread.workflow.demo import read_demo
from trackread.workflow.demo_film import FOLDER, show_film
from trackread.workflow.keys import make_key
from trackread.workflow.printing import form_for
from trackread.workflow.seen_take import seen_take
from trackread.workflow.sheet_of_take import Terms
from trackread.workflow.shot_list import shot_list

TERMS = Terms(parse_rate("24"))
SIZES = {"desktop": (1280, 800), "phone": (390, 844)}
SOON = 2000  # milliseconds in which a floor sees that its sheet is stale
SHOT, TAKE = "040", "L0007-1"


@pytest.fixture(scope="module")
def made(tmp_path_factory, reader):
    folder = tmp_path_factory.mktemp("demo")
    told = read_demo(folder, form_for(TERMS), reader, progress=lambda _: None)
    show_film(folder, told, TERMS, date(2026, 11, 26))
    return folder / FOLDER


@pytest.fixture(params=SIZES)
def size(request):
    return SIZES[request.param]


@pytest.fixture
def server(made, tmp_path):
    with served(shutil.copytree(made, tmp_path / "tram")) as server:
        yield server


class Person:
    """Somebody with a browser of their own, who signs in as people do."""

    def __init__(self, browser, server, role, *, size, unit=""):
        width, height = size
        self.context = browser.new_context(
            base_url=server.address, viewport={"width": width, "height": height}, has_touch=width < 600
        )
        self.context.set_default_timeout(8000)
        self.problems = []
        self.opens_another_page()
        self.page.goto("/sign-in")
        self.page.get_by_label("Your key").fill(make_key(server.book, role, role.upper(), unit, "ANN").text)
        self.page.get_by_role("button", name="Sign in").click()
        expect(self.page.get_by_role("button", name="Sign out")).to_be_visible()

    def opens_another_page(self):
        self.page = self.context.new_page()
        self.page.on("pageerror", lambda error: self.problems.append(str(error)))
        return self.page

    def hears_with_care(self):
        """Has read how to begin with headphones, on every page that asks."""
        self.page.evaluate("localStorage.setItem('trackread-ears', 'read')")

    def finds_nothing_amiss(self):
        found = Axe().run(self.page)["violations"]
        assert [(one["id"], [node["html"] for node in one["nodes"]]) for one in found] == []


@pytest.fixture
def people(browser, server, size):
    """The editor at the desk, the animator of unit 3, the office."""
    found = [
        Person(browser, server, "editor", size=size),
        Person(browser, server, "unit", size=size, unit="3"),
        Person(browser, server, "office", size=size),
    ]
    yield found
    for one in found:
        one.context.close()
    assert [one.problems for one in found] == [[], [], []]


def test_from_the_sign_in_to_the_frame_that_is_shot(server, people):
    editor, animator, office = people
    animator.page.goto(f"/floor/{SHOT}")
    expect(animator.page.locator("#done")).to_be_enabled()
    office.page.goto("/office")
    mends_the_take(editor)
    finds_a_doubt_right(editor, server)
    issues_the_sheet(editor, server)
    expect(animator.page.locator("#stale")).to_be_visible(timeout=SOON)
    expect(animator.page.locator("#stale-why")).to_contain_text("Issue 1 is replaced by issue 2")
    animator.finds_nothing_amiss()
    shoots_on(animator, server)
    expect(office.page.get_by_role("row", name=re.compile(f"^{SHOT} "))).to_contain_text("3 of 264")
    office.finds_nothing_amiss()


def mends_the_take(editor):
    """Drags an edge and undoes that, has a word heard again, circles the take."""
    page = editor.page
    editor.hears_with_care()
    page.goto(f"/desk/take/{TAKE}")
    page.wait_for_selector("#stage[data-ready]")
    undo = page.locator("#do-undo")
    drags_the_second_word(page)
    expect(undo).to_have_attribute("title", re.compile("moved from frame"))
    undo.click()
    expect(undo).to_have_attribute("title", "Nothing to undo")
    words = page.locator("#words tr")
    first = words.first.get_by_role("button")
    first.click()
    page.locator("#do-again").click()
    page.locator("#ask-text").fill("Whatever")
    page.locator("#ask-yes").click()
    expect(first).to_have_text("Whatever", timeout=30_000)  # the engines are loaded for the first time
    expect(undo).to_have_attribute("title", re.compile("^Undo: 'Whatever.* is said on frames"))
    page.locator("#do-circle").click()
    expect(page.locator("#do-circle")).to_have_attribute("aria-pressed", "true")
    editor.finds_nothing_amiss()


def finds_a_doubt_right(editor, server):
    """Goes to the place that is most worth hearing, of all takes, and says that it is right."""
    page = editor.page
    page.goto("/desk")
    page.locator("#worst").click()
    page.wait_for_url(re.compile("/desk/take/.*#word-"))
    page.wait_for_selector("#stage[data-ready]")
    name, word = re.search("/desk/take/(.*)#word-(.*)", page.url).groups()
    page.locator("#do-right").click()
    assert becomes(lambda: any(isinstance(one, Right) for one in seen_take(server.book, name).made))
    assert seen_take(server.book, name).reading.words[int(word)].doubt == 0


def drags_the_second_word(page):
    """Drags the edge before the second word down by some frames, with the mouse."""
    x, y = page.evaluate(
        """async () => {
          const { desk } = await import("/static/take.js");
          const { model, view, painter } = desk;
          const cut = model.take.words[1].first;
          view.rows(model.take.cuts[cut]);
          painter.draw();
          const box = document.getElementById("canvas").getBoundingClientRect();
          const { x, width } = view.columns().word;
          return [box.left + x + width / 2, box.top + view.y(model.take.cuts[cut])];
        }"""
    )
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y + 30, steps=4)
    page.mouse.up()


def issues_the_sheet(editor, server):
    """Ticks the shot in the cut and issues it, as the page has it."""
    page = editor.opens_another_page()  # the one before may still go on to the next doubt
    page.goto("/desk/cut")
    row = page.locator("#shots > li").filter(has=page.locator(f"[href$='/{SHOT}']"))
    row.get_by_role("checkbox").check()
    editor.finds_nothing_amiss()
    page.locator("#issue").click()
    page.locator("#issuing-reason").fill("the first word was another")
    page.locator("#issuing-yes").click()
    expect(page.locator("#told")).to_have_text("1 sheet issued")
    expect(page.locator("#issuing")).to_be_hidden()
    (listed,) = (one for one in shot_list(server.book, None) if one.name == SHOT)
    assert listed.issue == 2


def shoots_on(animator, server):
    """Takes the new sheet; one frame with a network, two without, which come in when it is back."""
    page, context = animator.page, animator.context
    page.locator("#take").click()
    expect(page.locator("#stale")).to_be_hidden()
    expect(page.locator("#issue")).to_contain_text("2")
    done = page.locator("#done")
    done.click()
    expect(page.locator("#number")).to_have_text("2")
    assert becomes(lambda: shot_of(server) == 1)
    context.set_offline(True)
    done.click()
    done.click()
    expect(page.locator("#number")).to_have_text("4")
    assert shot_of(server) == 1
    context.set_offline(False)
    expect(page.locator("#network")).to_have_text("all told")
    assert becomes(lambda: shot_of(server) == 3)


def shot_of(server):
    (listed,) = (one for one in shot_list(server.book, None) if one.name == SHOT)
    return listed.done
