"""What is kept on a shelf: made once, up to so many bytes, what was asked for last kept longest."""

import threading
import time

import pytest

from trackread.workflow.shelf import Shelf


class Maker:
    """Makes contents of so many bytes, and counts how often."""

    def __init__(self, size):
        self.size, self.made = size, 0

    def __call__(self):
        self.made += 1
        return bytes(self.size)


def test_what_is_there_is_not_made_again():
    shelf, make = Shelf(10), Maker(4)
    found = [shelf.content("one", make) for _ in range(3)]

    assert found == [bytes(4)] * 3
    assert make.made == 1


def test_what_nobody_has_asked_for_longest_leaves_first():
    shelf, make = Shelf(10), Maker(4)
    for key in ("one", "two", "one", "three"):
        shelf.content(key, make)

    assert (list(shelf.kept), shelf.size) == (["one", "three"], 8)


def test_what_is_larger_than_the_shelf_is_given_and_not_kept():
    shelf = Shelf(10)

    assert shelf.content("one", Maker(11)) == bytes(11)
    assert (list(shelf.kept), shelf.size) == ([], 0)


def test_what_could_not_be_made_is_made_the_next_time():
    shelf = Shelf(10)
    with pytest.raises(ZeroDivisionError):
        shelf.content("one", lambda: bytes(1 // 0))

    assert shelf.content("one", Maker(1)) == bytes(1)


def test_who_asks_while_it_is_made_waits_for_it():
    shelf, make = Shelf(10), Maker(4)

    def slowly():
        time.sleep(0.05)
        return make()

    threads = [threading.Thread(target=shelf.content, args=("one", slowly)) for _ in range(5)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert make.made == 1
