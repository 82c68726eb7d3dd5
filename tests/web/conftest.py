"""What tests of the pages share: a browser, productions made once for a file of tests, and servers of copies of them.

A browser is of one file of tests: while it is open, no other event loop can run in its thread.
"""

import shutil

import pytest
from playwright.sync_api import sync_playwright

from tests.web.desks import a_desk, serving
from tests.web.floors import an_issued_floor, copied, floor_app, visitors
from tests.web.served import a_film_with_shots, served
from tests.web.tablets import tablets


@pytest.fixture(scope="module")
def browser():
    chromium = shutil.which("chromium")
    assert chromium, "the pages are tested in chromium: scripts/environment installs it"
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        yield started
        started.close()


# The floor


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return an_issued_floor(tmp_path_factory.mktemp("floor"))


@pytest.fixture
def film(made, tmp_path):
    with copied(made, tmp_path) as book:
        yield book


@pytest.fixture
def app(film):
    return floor_app(film)


@pytest.fixture
def floor(app):
    with visitors(app) as visitor:
        yield visitor


@pytest.fixture
def unit(floor):
    return floor("unit:7")


@pytest.fixture
def tablet(app, browser):
    with tablets(app, browser) as tablet:
        yield tablet


# The whole server


@pytest.fixture(scope="module")
def film_with_shots(tmp_path_factory):
    return a_film_with_shots(tmp_path_factory.mktemp("film"))


@pytest.fixture
def folder(film_with_shots, tmp_path):
    return shutil.copytree(film_with_shots, tmp_path / "tram")


@pytest.fixture
def server(folder):
    with served(folder) as server:
        yield server


# The desk by itself


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    """A desk that nobody changes anything at."""
    with serving(a_desk(tmp_path_factory.mktemp("desk"))) as desk:
        yield desk


@pytest.fixture
def desk(tmp_path):
    with serving(a_desk(tmp_path)) as desk:
        yield desk
