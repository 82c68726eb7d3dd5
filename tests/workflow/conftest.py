"""A voice session that was brought in once, and copies of its production for every test that changes it."""

import shutil

import pytest

from tests.reels import a_tram, brought, write_reel
from trackread.book.book import Book


@pytest.fixture(scope="session")
def reel(tmp_path_factory):
    """The wave file of the session that tests/reels.py tells of."""
    return write_reel(tmp_path_factory.mktemp("studio") / "reel 1.wav")


@pytest.fixture(scope="session")
def finished(reel, tmp_path_factory):
    """The folder of a production into which the session has been brought; not to be changed."""
    folder = tmp_path_factory.mktemp("finished") / "tram"
    with a_tram(folder) as book:
        brought(book, reel)
    return folder


@pytest.fixture
def tram_book(finished, tmp_path):
    """A book of one's own with the session in it, read."""
    folder = tmp_path / "tram"
    shutil.copytree(finished, folder)
    with Book.open(folder) as book:
        yield book
