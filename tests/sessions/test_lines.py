"""Lines have words and words have sounds; those that are said alike are one to the ear."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sessions.makers import STEP, a_line, routes, some_lines
from trackread.sessions.lines import Spoken, can_be_said, known_apart


def test_a_line_has_the_phones_of_the_commonest_way_of_each_word() -> None:
    assert a_line("T UH | T UW, S T EH P").phones == ("T", "UH", "S", "T", "EH", "P")


@pytest.mark.parametrize("words", [(), ((),), (((),),), ((("T",),), ()), ((("T",), ()),)])
def test_a_line_without_words_or_sounds_is_refused(words) -> None:
    assert not can_be_said(words)
    with pytest.raises(ValueError, match="line L0107 has words"):
        Spoken("L0107", words)


@given(st.lists(routes, max_size=8))
def test_each_line_is_among_those_said_like_one_and_only_one_that_is_known_apart(all_words) -> None:
    lines = [Spoken(f"L{number:04}", words) for number, words in enumerate(all_words)]
    apart, same = known_apart(lines)

    assert len({line.words for line in apart}) == len(apart)
    assert [line.id for line in apart] == list(same)
    assert sorted(name for names in same.values() for name in names) == [line.id for line in lines]
    assert all(lines[int(name[1:])].words == line.words for line in apart for name in same[line.id])


def test_the_first_of_lines_said_alike_stands_for_them_with_itself_first() -> None:
    apart, same = known_apart(some_lines(STEP, "T IH K AH T", STEP))

    assert [line.id for line in apart] == ["L0101", "L0102"]
    assert same == {"L0101": ("L0101", "L0103"), "L0102": ("L0102",)}


def test_no_lines_are_known_apart_as_none() -> None:
    assert known_apart([]) == ((), {})
