"""Frames and rows: whatever the rate and the paper, each frame has its row, in order, with rules where time falls."""

import opentimelineio.opentime as otio
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sheets import reading_marks as read
from tests.sheets.voices import two_voices
from trackread.core.timebase import NAMED_RATES, Frame, parse_rate
from trackread.errors import SheetError
from trackread.sheets.marks import Box
from trackread.sheets.paper import TYPE_SIZES

RATES = ("23.976", "24", "25", "29.97", "29.97df", "30", "47.952", "48", "50", "59.94", "59.94df", "60")


@pytest.mark.parametrize("rate", RATES)
@pytest.mark.parametrize(("paper", "rows"), TYPE_SIZES)
def test_every_frame_has_one_row_and_rows_run_down_the_pages_in_order(rate: str, paper: str, rows: int):
    sheet = two_voices(rate, first_number=98)
    pages = read.pages_of(sheet, paper, rows)
    found = [number for page in pages for number in read.numbers(page)]

    assert found == [str(number) for number in range(98, 98 + 84)]
    for page in pages:
        heights = list(read.numbers(page).values())
        assert heights == sorted(heights)
        assert len(heights) <= rows


@given(st.integers(1, 200), st.integers(0, 9999), st.sampled_from(sorted(TYPE_SIZES)))
def test_a_sheet_of_any_length_has_a_row_for_each_frame(length: int, first: int, paper: tuple[str, int]):
    sheet = two_voices(voices=(), action=(), camera=(), changed=(), length=Frame(length), first_number=first)
    pages = read.pages_of(sheet, *paper)
    found = [number for page in pages for number in read.numbers(page)]

    assert found == [str(number) for number in range(first, first + length)]


@pytest.mark.parametrize("rate", RATES)
def test_words_and_sounds_start_in_the_row_of_their_frame(rate: str):
    first, second = read.pages_of(two_voices(rate))
    rows = read.numbers(first)
    baselines = {text.text: text.baseline for text in read.in_rows(first)}

    assert baselines["Mind"] == rows["5"]
    assert baselines["please!"] == rows["22"]
    assert baselines["never"] == rows["34"]
    assert {text.text: text.baseline for text in read.in_rows(second)}["tonight."] == read.numbers(second)["69"]


@pytest.mark.parametrize("rate", RATES)
def test_the_heaviest_rules_lie_where_timecode_begins_a_second(rate: str):
    """OpenTimelineIO says where SMPTE ST 12-1 begins a second, counted without drop."""
    exact = parse_rate(rate).per_second
    counting = exact.numerator / exact.denominator
    labels = (otio.to_timecode(otio.RationalTime(frame, counting), counting, False) for frame in range(1, 84))
    seconds = [frame for frame, label in enumerate(labels, 1) if label.endswith(":00") and frame % 48]
    pages = read.pages_of(two_voices(rate, first_number=0))
    drawn = []
    for number, page in enumerate(pages):
        tops = [rule.y1 for rule in read.levels(page)]
        heaviest = [rule.y1 for rule in read.levels(page) if rule.weight == 2.0]
        drawn += [48 * number + sorted(set(tops)).index(top) for top in heaviest]

    assert drawn == seconds


@pytest.mark.parametrize(("rate", "frames"), [("24", [12, 36]), ("25", [13, 38]), ("30", [15, 45]), ("48", [24])])
def test_a_half_second_is_ruled_at_the_first_frame_that_begins_in_it(rate: str, frames: list[int]):
    page = read.pages_of(two_voices(rate))[0]
    inner = read.levels(page)[1:-1]

    assert [frame for frame, rule in enumerate(inner, 1) if rule.weight == 1.1] == frames


def test_changed_frames_have_a_bar_beside_their_rows():
    page = read.example("two")[0]
    edge = read.uprights(page)[-1].x1
    rows = read.levels(page)
    (bar,) = (mark for mark in page.marks if isinstance(mark, Box) and mark.x > edge)

    assert (bar.y, bar.y + bar.height) == pytest.approx((rows[31].y1, rows[36].y1))
    assert not [mark for mark in read.example("two")[1].marks if isinstance(mark, Box) and mark.x > edge]


@pytest.mark.parametrize(
    ("kind", "rate", "labels"),
    [
        # Feet of 16 and of 40 frames: ISO 491 and ISO 69 by way of encyclopaedias.
        ("footage35", "24", {"1": "0+00", "17": "1+00", "25": "1+08", "41": "2+08"}),
        ("footage16", "24", {"1": "0+00", "11": "0+10", "41": "1+00"}),
        # Seconds and frames of SMPTE ST 12-1.
        ("timecode", "25", {"1": "00:00", "14": "00:13", "26": "01:00"}),
        ("timecode", "24", {"13": "00:12", "25": "01:00", "37": "01:12"}),
    ],
)
def test_counts_stand_in_the_rows_of_their_frames(kind: str, rate: str, labels: dict[str, str]):
    page = read.pages_of(two_voices(rate), count=kind)[0]
    heading = "time" if kind == "timecode" else "foot"
    found = {text.baseline: text.text for text in read.in_column(page, heading)}

    for number, label in labels.items():
        assert found[read.numbers(page)[number]] == label


def test_a_count_that_does_not_exist_is_refused_with_those_that_do():
    with pytest.raises(SheetError, match="'furlongs' is not a count for sheets: use footage35, footage16, timecode or"):
        read.pages_of(two_voices(), count="furlongs")


def test_all_named_rates_are_tried():
    assert {parse_rate(rate).per_second for rate in RATES} == set(NAMED_RATES.values())
