"""Setting a text in its room: never wider, never higher, and all of it unless it says so."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sheets import reading_marks as read
from trackread.sheets.fitting import NARROWEST, Room, fit
from trackread.sheets.marks import Face

LETTERS = st.text(st.characters(codec="latin-1", categories=["L", "N", "P"]), min_size=1, max_size=20)
TEXTS = st.lists(LETTERS, min_size=1, max_size=6).map(" ".join)
ROOMS = st.builds(Room, st.floats(1.5, 30), st.integers(1, 8))


@given(TEXTS, ROOMS, st.booleans())
def test_a_setting_stays_in_its_room(text: str, room: Room, bold: bool):
    setting = fit(text, room, read.length_in_ems, bold=bold)

    assert len(setting.lines) <= room.lines
    for line in setting.lines:
        assert read.length_in_ems(line, setting.face) * setting.stretch <= room.width + 1e-9


@given(TEXTS, ROOMS)
def test_a_setting_has_all_letters_or_says_that_it_is_cut(text: str, room: Room):
    setting = fit(text, room, read.length_in_ems)
    set_letters = "".join(setting.lines).replace("-", "").replace(" ", "")
    letters = text.replace("-", "").replace(" ", "")

    assert setting.cut or set_letters == letters
    assert not setting.cut or setting.lines[-1].endswith("…")


@given(TEXTS, ROOMS, st.booleans())
def test_letters_are_never_squeezed_below_the_narrowest(text: str, room: Room, bold: bool):
    setting = fit(text, room, read.length_in_ems, bold=bold)

    assert setting.stretch >= NARROWEST
    assert (setting.face in (Face.BOLD, Face.CONDENSED_BOLD)) == bold


def test_a_text_is_set_in_the_widest_way_that_fits():
    length = read.length_in_ems("please!", Face.REGULAR)

    assert fit("please!", Room(length), read.length_in_ems).face is Face.REGULAR
    assert fit("please!", Room(length * 0.95), read.length_in_ems).face is Face.CONDENSED
    assert fit("please!", Room(length * 0.8), read.length_in_ems).stretch < 1
    assert len(fit("please!", Room(length * 0.5, 2), read.length_in_ems).lines) == 2
    assert fit("please!", Room(length * 0.5), read.length_in_ems).cut


def test_a_room_too_narrow_for_a_letter_has_an_ellipsis_alone():
    """One row of a word that runs down the page has 0.88 ems."""
    setting = fit("…miss", Room(0.88), read.length_in_ems)

    assert (setting.lines, setting.cut) == (("…",), True)
    assert read.length_in_ems("…", setting.face) * setting.stretch < 0.88


def test_lines_break_at_spaces_and_after_hyphens_before_they_break_words():
    setting = fit("half-past ten", Room(3.0, 3), read.length_in_ems)

    assert setting.lines == ("half-", "past", "ten")


@pytest.mark.parametrize(
    ("word", "ems", "expected"),
    [
        ("whispered", 2.2, ("whis-", "pered")),
        ("Unquestionably", 3.5, ("Unques-", "tionably")),
        # No syllable begins near the end of the line: three letters are kept for the next.
        ("tickets,", 2.2, ("tick-", "ets,")),
        ("tonight.", 2.2, ("toni-", "ght.")),
    ],
)
def test_a_word_that_must_be_broken_goes_on_with_a_consonant_and_a_vowel_or_three_letters(word, ems, expected):
    assert fit(word, Room(ems, 2), read.length_in_ems, bold=True).lines == expected


def test_a_break_that_would_take_too_many_lines_is_made_where_the_line_is_full():
    """Broken where it goes on best, the word has three parts."""
    three, two = (fit("disorganised", Room(2.4, lines), read.length_in_ems) for lines in (3, 2))

    assert three.lines == ("disor-", "gani-", "sed")
    assert two.lines == ("disorg-", "anised")
