"""The key at the foot of a page: what it explains is what the page shows."""

import pytest

from tests.sheets import reading_marks as read
from tests.sheets.examples import EXAMPLES
from tests.sheets.reading_signs import bars, beside, brackets, climbs, flags, signs, voices_on
from tests.sheets.voices import CROWD, a_speaker, acted, acted_crowd, beats_of
from trackread.core.performance import Tone
from trackread.core.sheet import Phrase
from trackread.core.timebase import Frame
from trackread.sheets.departures import MANNER_DASH
from trackread.sheets.marks import Box, Hatch, Line

# What the key says of each sign, and whether a page shows it, by its marks in the rows.
SIGNS = {
    "main": lambda page, lane: flags(page, lane),
    "phrase": lambda page, lane: brackets(page, lane),
    "rises": lambda page, lane: [sign for sign in signs(page, lane) if len(sign.points) == 5 and climbs(sign)],
    "falls": lambda page, lane: [sign for sign in signs(page, lane) if len(sign.points) == 5 and not climbs(sign)],
    "peaks": lambda page, lane: [sign for sign in signs(page, lane) if len(sign.points) == 3],
    "ends up": lambda page, lane: [sign for sign in signs(page, lane) if sign.fill is not None and climbs(sign)],
    "ends down": lambda page, lane: [sign for sign in signs(page, lane) if sign.fill is not None and not climbs(sign)],
    "strong": lambda page, lane: [bar for bar in bars(page, lane, Box) if bar.width > 2],
    "half": lambda page, lane: bars(page, lane, Hatch),
    "weak": lambda page, lane: [bar for bar in bars(page, lane, Box) if bar.width < 2],
}


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_key_explains_what_the_page_shows_and_nothing_else(name):
    for page in read.example(name):
        foot = [text.text for text in read.below_rows(page)]
        voices = voices_on(page, name)
        folded = [voice for voice in voices if not voice.words]
        stress = [read.lanes(page, voice.character)[0] for voice in voices if voice not in folded or len(voices) < 3]
        for word, shown in SIGNS.items():
            assert (word in foot) == any(shown(page, lane) for lane in stress), word
        said = " ".join(text.text for text in read.in_rows(page))
        upper = [mark for mark in page.marks if isinstance(mark, Line) and mark.y1 < read.uprights(page)[0].y2]
        dashes = {line.dash for line in upper}
        marked = [path for voice in voices for path in beside(page, voice.character)]
        assert ("pause" in foot) == (" fr" in said)
        assert ("( ) no word" in foot) == bool(set("()") & set(said))
        assert any("whispered" in text for text in foot) == (MANNER_DASH in dashes)
        assert ("words left out" in foot) == any(len(path.points) == 3 for path in marked)
        assert ("not as in the script" in foot) == any(len(path.points) > 5 for path in marked)


def test_a_turn_that_gives_way_to_the_end_of_its_phrase_is_not_explained():
    voice = a_speaker(beats=beats_of((4, 5, 2, Tone.RISE), main=()), phrases=(Phrase(Frame(2), Frame(5), Tone.FALL),))
    foot = [text.text for text in read.below_rows(read.pages_of(acted(voice))[0])]

    assert "ends down" in foot
    assert "rises" not in foot


@pytest.mark.parametrize("count", [1, 2, 4, 6])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_longest_key_stays_on_two_lines_inside_the_page_and_under_the_rows(count: int, paper: str):
    for page in read.pages_of(acted_crowd(count), paper)[:2]:
        below = read.below_rows(page)
        lowest = max(mark.y2 for mark in page.marks if isinstance(mark, Line))

        assert len({text.baseline for text in below}) <= 2
        assert {text.size for text in below} == {below[0].size}
        assert min(text.stretch for text in below) > 0.8
        assert max(read.extent(text).right for text in below) <= read.uprights(page)[-1].x1 + 1
        assert lowest < page.height - 12
        # Six that talk at once have no lines of pitch to be told apart.
        assert any(CROWD[0] in text.text for text in below) == (count < 6)
