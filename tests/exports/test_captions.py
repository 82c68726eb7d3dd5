"""Captions as WebVTT, read back by webvtt-py 0.6, which leaves character references as they are written."""

import html
import re
from fractions import Fraction

import pytest
import webvtt
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.exports.makers import LINE, RATES, a_film, a_sheet, a_shot, films, numbered_lines
from trackread.core.sheet import PlacedLine
from trackread.core.timebase import parse_rate
from trackread.exports.captions import captions_of_film, captions_of_shot

STAMP = re.compile("([0-9]{2,}):([0-5][0-9]):([0-5][0-9])[.]([0-9]{3})")


def by_webvtt(content):
    """The cues of a file: start and stop in milliseconds, the voice and the text."""
    cues = webvtt.from_string(content.decode())
    return [
        (milliseconds(cue.start), milliseconds(cue.end), html.unescape(cue.voice), html.unescape(cue.text))
        for cue in cues
    ]


def milliseconds(stamp):
    hours, minutes, seconds, thousandths = map(int, STAMP.fullmatch(stamp).groups())
    return ((60 * hours + minutes) * 60 + seconds) * 1000 + thousandths


def nearest_frame(time, rate):
    """The frame whose first edge is nearest to a time in milliseconds."""
    return int(Fraction(time, 1000) * parse_rate(rate).per_second + Fraction(1, 2))


@pytest.mark.parametrize("rate", RATES)
@given(firsts=st.lists(st.integers(0, 40_000), min_size=1, max_size=30, unique=True))
@settings(max_examples=10)
def test_the_frame_of_every_cue_is_the_nearest_to_its_time_at_all_rates(rate, firsts):
    cues = by_webvtt(captions_of_film(numbered_lines(rate, firsts)))

    assert len(cues) == len(firsts)
    for start, stop, _, text in cues:
        assert nearest_frame(start, rate) == int(text)
        assert nearest_frame(stop, rate) == int(text) + 1


def test_a_time_lies_at_the_nearest_millisecond_and_not_below():
    # The project's check values: at 24, frame 2 is the first that a time rounded down misses; it starts at 83.33 ms.
    film = numbered_lines("24", [1, 2, 24 * 3600])
    starts = [start for start, *_ in by_webvtt(captions_of_film(film))]

    assert starts == [42, 83, 3_600_000]


@settings(max_examples=60)
@given(films())
def test_cues_are_the_lines_of_all_shots_in_the_order_of_their_starts(film):
    cues = by_webvtt(captions_of_film(film))
    lines = [(shot.first, line) for shot in film.shots for line in shot.sheet.lines]
    rate = str(film.rate)

    assert [start for start, *_ in cues] == sorted(start for start, *_ in cues)
    assert sorted((nearest_frame(start, rate), nearest_frame(stop, rate), text) for start, stop, _, text in cues) == (
        sorted((zero + line.first, zero + line.stop, " ".join(line.text.split())) for zero, line in lines)
    )


def test_a_shot_has_its_own_time_and_a_film_that_of_the_cut():
    shot = a_shot("SH020", 48)

    assert by_webvtt(captions_of_shot(shot)) == [(83, 833, "BRACK", "Mind the step!")]
    assert by_webvtt(captions_of_film(a_film(shot))) == [(2083, 2833, "BRACK", "Mind the step!")]


def test_a_file_is_as_the_standard_has_it():
    # W3C WebVTT, 4.1: the signature, an empty line before each cue, its times and its text in a voice span (4.2.2).
    assert captions_of_shot(a_shot()) == (b"WEBVTT\n\n00:00:00.083 --> 00:00:00.833\n<v BRACK>Mind the step!</v>\n")


@pytest.mark.parametrize(
    ("character", "text", "cue"),
    [
        ("BRACK & TUM", "a < b --> c", "<v BRACK &amp; TUM>a &lt; b --&gt; c</v>"),
        ("TUM", "No ticket.\n\nNone.", "<v TUM>No ticket. None.</v>"),
        ("TUM", "<i>None</i>", "<v TUM>&lt;i&gt;None&lt;/i&gt;</v>"),
    ],
)
def test_a_text_cannot_end_its_cue_or_begin_a_tag(character, text, cue):
    line = PlacedLine("1", "A1/1", character, text, LINE.first, LINE.stop)
    content = captions_of_shot(a_shot(sheet=a_sheet(lines=(line,)))).decode()

    assert content.split("\n", 3)[3] == f"{cue}\n"
    assert [found[2:] for found in by_webvtt(content.encode())] == [(character, " ".join(text.split()))]


def test_a_film_without_lines_has_no_cues():
    assert captions_of_film(a_film(a_shot(sheet=a_sheet()))) == b"WEBVTT\n"
