"""The pages of the desk in a real browser, and what can be asked of them and done to them.

What is seen is asked of the page's own parts, which `/static/take.js` gives as `desk`.
"""

import time
from contextlib import contextmanager

from axe_core_python.sync_playwright import Axe

PATIENCE = 10  # seconds
FRAME = 2000  # samples of a frame: 48 kHz, 24 a second
SIZES = {"desktop": (1280, 800), "phone": (390, 844), "tablet": (1024, 1366)}
EARS = "localStorage.setItem('trackread-ears', 'read')"  # whoever uses a page has read how to treat ears


@contextmanager
def a_page(browser, size="desktop"):
    """A page that is open for a while; what goes wrong in it is an error."""
    width, height = SIZES[size]
    viewport = {"width": width, "height": height}
    context = browser.new_context(viewport=viewport, has_touch=size != "desktop")
    page = context.new_page()
    problems = []
    page.on("pageerror", lambda error: problems.append(str(error)))
    page.add_init_script(EARS)
    yield page
    context.close()
    assert problems == []


def to_take(page, address, take):
    """Opens the page of a take, with all its sound."""
    page.goto(f"{address}/desk/take/{take}")
    page.wait_for_selector("#stage[data-ready]")
    until(page, "desk.sound.loaded === desk.clock.samples")
    page.focus("#stage")
    return page


def asked(page, expression):
    """What an expression of the page's `desk` is, once all writes are done."""
    imported = "const { desk } = await import('/static/take.js'); await desk.model.queue"
    return page.evaluate(f"async () => {{ {imported}; return {expression}; }}")


def until(page, expression):
    """Waits for an expression of the page's `desk` to be true."""
    last = time.monotonic() + PATIENCE
    while not asked(page, expression):
        assert time.monotonic() < last, f"never {expression}"
        page.wait_for_timeout(20)


def cuts(page):
    return asked(page, "desk.model.take.cuts")


def place_of_cut(page, cut, column="word"):
    """Where an edge lies on the page."""
    return asked(
        page,
        f"(() => {{ const box = document.getElementById('stage').getBoundingClientRect();"
        f" const {{ x, width }} = desk.view.columns().{column};"
        f" return [box.left + 1 + x + width / 2, box.top + 1 + desk.view.y(desk.model.take.cuts[{cut}])]; }})()",
    )


def axe_problems(page):
    return [(one["id"], [node["html"] for node in one["nodes"]]) for one in Axe().run(page)["violations"]]
