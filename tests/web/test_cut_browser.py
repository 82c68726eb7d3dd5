"""The cut in a real browser, on a desktop and on a phone: walked through, issued, stale as it happens, placed by hand.

One production is served for all of it, so each test has shots of its own: SH010 (L0002-1) and SH020 nobody changes,
SH030 (L0001-1) becomes stale, SH040 (L0001-2) and SH070 are issued, SH050 (L0003-1) clashes, in SH060 something is
placed, and in SH080 somebody else places something.
"""

import json

import pytest
from axe_core_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.films import a_film
from tests.web.cuts import a_room, add_cut, issue_beside
from trackread.book.book import Book
from trackread.book.issues import issues
from trackread.workflow.correcting import correct, move
from trackread.workflow.current_cut import current_cut
from trackread.workflow.keys import make_key
from trackread.workflow.placing import place

SIZES = {"desktop": (1440, 900), "phone": (390, 844)}
SOON = 10_000  # milliseconds; the pages wait a moment for more news before they ask, and the machine may be busy
SHOTS = [(f"SH0{k}0", 200 * k, 48 * (k - 1), 48) for k in range(1, 9)]
VOICES = [(30, 10, 13), (10, 106, 20), (20, 154, 23), (40, 202, 12)]
MANY = 1500


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    folder = a_film(tmp_path_factory.mktemp("film"))
    with Book.open(folder) as book:
        add_cut(book, folder.parent, SHOTS, VOICES)
        issue_beside(book, "SH010", "SH030", "SH050")
    with a_room(folder) as room:
        yield room


@pytest.fixture(scope="module")
def visits(room, browser):
    """Browsers that have signed in, by role."""
    made = {}
    for role in ("editor", "office"):
        context = browser.new_context(base_url=room.server.address, has_touch=True)
        context.set_default_timeout(10_000)
        page = context.new_page()
        page.goto("/sign-in")
        page.locator("#key").fill(make_key(room.book, role, role.upper(), "", "ANN").text)
        page.get_by_role("button", name="Sign in").click()
        page.wait_for_url("**/*desk*" if role == "editor" else "**/office")
        page.close()
        made[role] = context
    yield made
    for context in made.values():
        context.close()


@pytest.fixture
def open_page(visits):
    """Opens a page of the cut; whatever goes wrong on it, what a page may not load included, fails the test."""
    pages, wrong = [], []

    def open_page(path="/desk/cut", *, role="editor", size="desktop"):
        width, height = SIZES[size]
        page = visits[role].new_page()
        page.set_viewport_size({"width": width, "height": height})
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda told: wrong.append(told.text) if told.type == "error" else None)
        pages.append(page)
        page.goto(path)
        expect(page.locator("[data-ready]")).to_be_visible()
        return page

    yield open_page
    for page in pages:
        page.close()
    # That a write was refused is told in the console too, and is meant.
    assert [one for one in wrong if "status of 412" not in one] == []


def row(page, name):
    return page.locator("#shots > li", has=page.get_by_role("link", name=name, exact=True))


def issues_of(room, name):
    return issues(room.book, shot=name)


def test_arrows_go_from_shot_to_shot_space_ticks_and_enter_opens(open_page):
    page = open_page()
    page.get_by_role("link", name="SH010", exact=True).focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press(" ")
    page.keyboard.press("End")
    page.keyboard.press("ArrowUp")
    expect(page.get_by_role("link", name="SH070", exact=True)).to_be_focused()
    expect(page.get_by_label("Tick SH020")).to_be_checked()
    expect(page.locator("#ticked")).to_have_text("1 shot ticked")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Shot SH070")).to_be_visible()
    page.get_by_role("link", name="The whole cut").click()

    expect(page.get_by_role("link", name="SH070", exact=True)).to_be_focused()


def test_shots_are_found_by_words_by_unit_and_by_their_sheets(open_page):
    page = open_page()
    page.locator("#find").fill("tum hat")
    expect(page.locator("#shown")).to_have_text("1 of 8 shots shown")
    page.locator("#find").fill("sh020")
    page.locator("#show").select_option("none")
    page.get_by_role("button", name="Tick all without a sheet").click()
    expect(page.locator("#ticked")).to_have_text("1 shot ticked")
    page.locator("#find").fill("")
    page.locator("#show").select_option("")
    page.locator("#unit").select_option("7")

    expect(row(page, "SH010")).to_be_visible()
    expect(row(page, "SH020")).to_be_hidden()
    expect(page.locator("#ticked")).to_have_text("1 shot ticked, 1 of them not shown")


@pytest.mark.parametrize(("size", "name"), [("desktop", "SH040"), ("phone", "SH070")])
def test_a_sheet_is_issued_once_its_unit_is_said(open_page, room, size, name):
    page = open_page(size=size)
    page.get_by_label(f"Tick {name}").check()
    page.get_by_role("button", name="Issue …").click()
    box = page.get_by_role("dialog", name=f"Issue the sheet of {name}")
    box.get_by_role("button", name="Issue 1 sheet").click()
    assert issues_of(room, name) == ()
    box.get_by_label("Unit").fill("4")
    box.get_by_label("Why it is given out").fill("for Monday")
    box.get_by_role("button", name="Issue 1 sheet").click()
    expect(row(page, name)).to_contain_text("Issue 1 holds", timeout=SOON)
    expect(page.locator("#ticked")).to_have_text("Nothing is ticked")
    (one,) = issues_of(room, name)

    assert (one.number, one.unit, one.reason, one.author) == (1, "4", "for Monday", "EDITOR")


def test_a_sheet_becomes_stale_as_it_happens_and_the_shot_says_how(open_page, room):
    page = open_page()
    expect(row(page, "SH030")).to_contain_text("Issue 1 holds")
    correct(room.book, "L0001-1", move("ticket!", 13), "BO")
    expect(row(page, "SH030")).to_contain_text("STALE from frame", timeout=SOON)
    expect(row(page, "SH030")).to_contain_text("L0001-1 corrected by BO")
    page.locator("#show").select_option("stale")
    expect(row(page, "SH010")).to_be_hidden()
    row(page, "SH030").get_by_role("link").click()
    expect(page.locator("#state")).to_contain_text("“ticket!”")
    expect(page.locator("#state")).to_contain_text("to shoot again")
    now = page.get_by_alt_text("Page 1 of 1 of the sheet of SH030, as it would be printed now")
    seen = now.evaluate("async (it) => { await it.decode(); return [it.naturalWidth, it.naturalHeight]; }")
    page.locator("#which").select_option("1")
    expect(page.get_by_alt_text("Page 1 of 1 of the sheet of SH030, issue 1")).to_be_visible()

    # A4 at 144 dots to the inch.
    assert seen == pytest.approx([1191, 1684], abs=1)
    assert page.locator("#print").get_attribute("href") == "/api/cut/shots/SH030/sheet?issue=1"


def test_what_changed_while_the_box_was_open_is_told_and_nothing_is_issued(open_page, room):
    page = open_page("/desk/cut/SH050")
    page.get_by_role("button", name="Issue this sheet …").click()
    issue_beside(room.book, "SH050", unit="9")
    box = page.get_by_role("dialog")
    box.get_by_role("button", name="Issue 1 sheet").click()
    expect(box.get_by_role("alert")).to_contain_text("changed since you looked: SH050. Nothing is issued")
    expect(box.get_by_role("alert")).to_contain_text("SH050 is now: issue 2, unit 9")
    box.get_by_role("button", name="Leave it").click()

    expect(page.locator("#state")).to_contain_text("Unit 9, issue 2")
    assert [one.unit for one in issues_of(room, "SH050")] == ["7", "9"]


@pytest.mark.parametrize("size", SIZES)
def test_a_line_is_found_placed_and_taken_out_again(open_page, room, size):
    page = open_page("/desk/cut/SH060", size=size)
    page.locator("#place-find").fill("next stop")
    page.get_by_role("button", name="take L0004-1").click()
    expect(page.locator("#place-at")).to_be_focused()
    page.keyboard.type("12")
    page.keyboard.press("Enter")
    expect(page.locator("#placed")).to_contain_text("L0004-1 on frames 12–")
    expect(page.locator("#beware")).to_contain_text("L0004-1 has not been read")
    place(room.book, "L0001", "SH080", 1 + list(SIZES).index(size), author="BO")
    page.get_by_role("button", name="Take it out: L0004-1, from frame 12").click()
    expect(page.locator("#problem")).to_contain_text("by BO")
    expect(page.locator("#problem")).to_contain_text("Yours is not made yet: L0004-1 taken out of SH060")
    page.get_by_role("button", name="Take it out: L0004-1, from frame 12").click()
    expect(page.locator("#placed")).to_have_text("Nothing yet.")

    assert {one.source.clip for one in current_cut(room.book).cut.placements if one.place.by_hand} == {"L0001"}


def test_fifteen_hundred_shots_are_there_are_found_and_are_issued_in_parts(open_page, visits, room):
    told = room.told("/api/cut")
    shots = [{**told["shots"][0], "shot": f"T{k:04}", "state": f"s{k}", "issue": None} for k in range(MANY)]
    context, posts = visits["editor"], []

    def issue(route):
        names = json.loads(route.request.post_data)["shots"]
        posts.append((route.request.headers["if-match"], names))
        route.fulfill(body=json.dumps({"given": [{"shot": name} for name in names]}))

    context.route("**/api/cut", lambda route: route.fulfill(body=json.dumps({**told, "shots": shots})))
    context.route("**/api/issue", issue)
    page = open_page()
    expect(page.locator("#shots > li")).to_have_count(MANY)
    page.locator("a.code").first.focus()
    page.keyboard.press("End")
    expect(page.get_by_role("link", name="T1499")).to_be_focused()
    expect(page.get_by_role("link", name="T1499")).to_be_in_viewport()
    page.locator("#find").fill("t07")
    expect(page.locator("#shown")).to_have_text("100 of 1,500 shots shown")
    page.get_by_role("button", name="Tick all without a sheet").click()
    page.get_by_role("button", name="Issue …").click()
    page.get_by_role("dialog").get_by_label("Unit").fill("4")
    page.get_by_role("button", name="Issue 100 sheets").click()
    expect(page.locator("#ticked")).to_have_text("Nothing is ticked", timeout=SOON)
    context.unroute_all()

    assert [len(names) for _, names in posts] == [20] * 5
    assert [name for _, names in posts for name in names] == [f"T{k:04}" for k in range(700, 800)]
    assert posts[0][0] == f'"{".".join(f"s{k}" for k in range(700, 720))}"'


def test_the_office_reads_and_changes_nothing(open_page):
    page = open_page(role="office")
    expect(row(page, "SH010")).to_contain_text("Unit 7")
    assert page.locator("input[type=checkbox], #issue, #add").count() == 0
    row(page, "SH010").get_by_role("link").click()
    expect(page.get_by_role("heading", name="Shot SH010")).to_be_visible()

    assert page.locator("form:not(.who) button, #issue, #place").count() == 0
    assert page.get_by_role("link", name="Hear and mend").count() == 0


@pytest.mark.parametrize("size", SIZES)
def test_axe_finds_nothing_and_every_target_is_large(open_page, size):
    page = open_page(size=size)
    expect(row(page, "SH010")).to_contain_text("Issue 1 holds")
    assert axe_problems(page) == []
    assert small_targets(page) == []
    page.get_by_label("Tick SH010").check()
    page.get_by_role("button", name="Issue …").click()
    assert axe_problems(page) == []
    page.keyboard.press("Escape")
    page.goto("/desk/cut/SH010")
    expect(page.locator("[data-ready]")).to_be_visible()
    page.locator("#place-find").fill("hat")
    expect(page.locator("#place-told")).to_have_text("1 line")

    assert axe_problems(page) == []
    assert small_targets(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= SIZES[size][0]


def axe_problems(page):
    return [(one["id"], [node["html"] for node in one["nodes"]]) for one in Axe().run(page)["violations"]]


def small_targets(page):
    """What can be pressed and is less than 48 px in one direction; of a tick, its label is what is pressed."""
    found = page.locator("button:visible, a:visible:not(.skip), input:visible, select:visible, summary:visible")
    sizes = found.evaluate_all(
        """every => every.map((it) => {
          const { width, height } = (it.type === "checkbox" ? it.closest("label") : it).getBoundingClientRect();
          return [it.id || it.textContent, Math.round(width), Math.round(height)];
        })"""
    )
    assert len(sizes) > 10
    return [one for one in sizes if min(one[1:]) < 48]
