"""What is drawn of the sound: level, pitch and stress."""

import pytest

from tests.sheets import reading_marks as read
from tests.sheets.examples import EXAMPLES
from tests.sheets.voices import a_cell, a_speaker, two_voices
from trackread.core.sheet import POINTS, Beat
from trackread.core.timebase import Frame
from trackread.sheets.marks import Box, Hatch, Path

# Where five or six talk at once there is no pitch to draw.
PITCHED = pytest.mark.parametrize(
    "name", [name for name in EXAMPLES if "five" not in name and ("six" not in name or "two-of-six" in name)]
)


def test_degrees_of_stress_differ_in_width_and_filling():
    bars = [a_cell(first, first + 3, "x") for first in (0, 4, 8)]
    beats = tuple(Beat(bar.first, bar.stop, degree) for degree, bar in enumerate(bars))
    page = read.pages_of(two_voices(voices=(a_speaker(*bars, beats=beats),), changed=()))[0]
    # Left of the number, level (twice, being the number's right as well), pitch, and then the voice and its word.
    left, right = (rule.x1 for rule in read.uprights(page)[4:6])
    boxes = [mark for mark in page.marks if isinstance(mark, Box) and left <= mark.x and mark.x + mark.width <= right]
    hatches = [mark for mark in page.marks if isinstance(mark, Hatch) and left <= mark.x < right and mark.height > 20]
    weak, strong = sorted((box for box in boxes if box.height > 20), key=lambda box: box.width)

    assert len(hatches) == 1
    assert weak.width * 2 < hatches[0].width < strong.width * 0.8


@PITCHED
def test_level_and_pitch_stay_in_their_own_lanes(name: str):
    for page in read.example(name):
        headed = [text for text in read.texts(page) if text.text in ("level", "pitch")]
        edges = [rule.x1 for rule in read.uprights(page)]
        left = max(edge for edge in edges if edge <= headed[0].x)
        middle = max(edge for edge in edges if edge <= headed[1].x)
        right = min(edge for edge in edges if edge > headed[1].x)
        bottom = read.uprights(page)[0].y2
        found = [mark for mark in page.marks if isinstance(mark, Path) and mark.points[0][1] < bottom]
        drawn = [path for path in found if min(x for x, _ in path.points) < right - 1]

        assert drawn or not EXAMPLES[name][0].voices
        for path in drawn:
            low, high = (left, middle) if path.fill is not None else (middle, right)

            assert all(low < x < high for x, _ in path.points)


def test_six_at_once_have_no_lines_of_pitch_and_beside_positions_no_level():
    crowd = {len(read.in_column(page, "positions")): page for page in read.example("shot-six")[:3]}
    without, beside = crowd[0], crowd[48]

    assert {"level", "pitch"} & {text.text for text in read.above_rows(without)} == {"level"}
    assert {"level", "pitch"} & {text.text for text in read.above_rows(beside)} == set()


def test_the_line_of_pitch_is_smoothed_over_half_a_frame_and_keeps_its_course():
    even = [0.2 + 0.6 * point / (84 * POINTS) for point in range(84 * POINTS)]
    shaky = tuple(value + 0.05 * (-1) ** point for point, value in enumerate(even))
    drawn = [
        read.pages_of(two_voices(voices=(a_speaker(pitch=pitch),), action=(), camera=()))[0]
        for pitch in (tuple(even), shaky)
    ]
    straight, rough = (next(mark for mark in page.marks if isinstance(mark, Path)).points for page in drawn)
    wide = (max(x for x, _ in straight) - min(x for x, _ in straight)) / 0.6 * 84 / 48

    assert max(abs(a - b) for (a, _), (b, _) in zip(straight[2:-2], rough[2:-2], strict=True)) < 0.011 * wide
    assert [y for _, y in straight] == [y for _, y in rough]


def test_the_level_is_wide_where_the_sound_is_loud():
    level = tuple(1.0 if 5 <= point // POINTS < 9 else 0.0 for point in range(84 * POINTS))
    page = read.pages_of(two_voices(voices=(a_speaker(level=level),)))[0]
    shape = next(mark for mark in page.marks if isinstance(mark, Path))
    rows = read.levels(page)
    middle = (max(x for x, _ in shape.points) + min(x for x, _ in shape.points)) / 2
    wide = [y for x, y in shape.points if x > middle + 5]

    assert rows[5].y1 < min(wide) < rows[6].y1
    assert rows[8].y1 < max(wide) < rows[9].y1


def test_pitch_breaks_where_there_is_no_voice():
    pitch = tuple(0.5 if point % 80 < 40 else None for point in range(48 * POINTS))
    sheet = two_voices(voices=(a_speaker(pitch=pitch),), length=Frame(48), action=(), camera=())
    paths = [mark for mark in read.pages_of(sheet)[0].marks if isinstance(mark, Path)]

    assert [len(path.points) for path in paths if path.fill is None] == [40] * 5
