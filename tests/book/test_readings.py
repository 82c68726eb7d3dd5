"""Readings found again under everything they depend on."""

import zlib
from dataclasses import replace

import pytest
from sqlalchemy import text

from tests.book.makers import KEY
from tests.makers import a_reading
from trackread.book.checking import check
from trackread.book.readings import find_reading, keys_of, readings_done, save_reading
from trackread.core.plain import reading_to_plain
from trackread.errors import BookError

OTHERS = [
    replace(KEY, digest="ac" * 32),
    replace(KEY, start=1001),
    replace(KEY, stop=2**40 + 1),
    replace(KEY, channel=1),
    replace(KEY, line_digest="ce" * 32),
    replace(KEY, pronunciations_digest=""),
    replace(KEY, pins_digest="aa" * 32),
    replace(KEY, engine="engine 2"),
]


def test_a_reading_comes_back_as_it_was_saved(book):
    plain = dict(reading_to_plain(a_reading(), book.production.rate))
    save_reading(book, KEY, plain)

    assert find_reading(book, KEY) == plain


def test_the_same_key_again_keeps_the_first(book):
    save_reading(book, KEY, {"words": ["Zoë"]})
    save_reading(book, KEY, {"words": []})

    assert find_reading(book, KEY) == {"words": ["Zoë"]}


@pytest.mark.parametrize("other", OTHERS)
def test_every_part_of_a_key_counts(book, other):
    save_reading(book, KEY, {})

    assert find_reading(book, other) is None
    save_reading(book, other, {"other": 1})
    assert (find_reading(book, KEY), find_reading(book, other)) == ({}, {"other": 1})
    assert keys_of(book) == {KEY, other}


def test_what_is_done_is_told_for_many_keys_at_once(book):
    many = [replace(KEY, digest=f"{number:064x}") for number in range(1200)]
    for key in (*many[::300], KEY):
        save_reading(book, key, {})

    assert readings_done(book, many) == {*many[::300]}
    assert readings_done(book, []) == frozenset()


@pytest.mark.parametrize("body", [b"no zlib", zlib.compress(b"{"), zlib.compress(b"[]"), zlib.compress(b"\xff")])
def test_a_damaged_reading_is_told(book, body):
    save_reading(book, KEY, {"words": []})
    with book.writing() as transaction:
        transaction.execute(text("UPDATE readings SET body = :body"), {"body": body})

    with pytest.raises(BookError, match=r"the reading of abab.* is damaged"):
        find_reading(book, KEY)
    (problem,) = check(book)
    assert problem.startswith("reading 1 (recording abab")
