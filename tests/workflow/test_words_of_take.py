"""The rows of a take's words."""

from dataclasses import replace

from hypothesis import given

from tests.makers import a_reading, readings
from trackread.core.reading import Source
from trackread.core.timebase import parse_rate
from trackread.workflow.sheet_of_take import Terms, word_cells
from trackread.workflow.sheet_said import said_of_take
from trackread.workflow.words_of_take import word_rows

FILM = Terms(parse_rate("24"))


@given(readings())
def test_the_table_and_the_sheet_put_a_word_on_one_frame(reading):
    cells = word_cells(said_of_take(reading, FILM.rate))
    numbered = replace(FILM, first_number=1001)

    rows = [row for row in word_rows(reading, numbered) if row.doubt is not None]
    assert len(rows) == len(reading.words)
    for row in rows:
        (cell,) = [cell for cell in cells if cell.first == row.number - 1001]
        assert row.text in cell.text


def test_a_word_shows_its_strongest_stress_its_sounds_and_its_doubt():
    rows = word_rows(a_reading(("ticket", "T IH1 K AH0 T"), ("the", "DH AH0"), ("Shh!", "SH")), FILM)

    assert [(row.stress, row.sounds, row.doubt) for row in rows] == [
        ("strong", "t ih k uh t", 0.1),
        ("weak", "th uh", 0.1),
        ("", "sh", 0.1),
    ]


def test_a_pause_within_a_word_makes_no_sound():
    reading = a_reading(("tram", "T R SIL AE1 M"))

    assert word_rows(reading, FILM)[0].sounds == "t r a m"


def test_only_a_guessed_word_is_marked_so():
    reading = a_reading(("a", "AH0"), ("b", "B IY1"), ("c", "S IY1"), ("d", "D IY1"))
    words = tuple(replace(word, source=source) for word, source in zip(reading.words, Source, strict=True))
    rows = word_rows(replace(reading, words=words), FILM)

    assert {row.guessed: words[k].source for k, row in enumerate(rows) if row.guessed} == {True: Source.GUESS}
