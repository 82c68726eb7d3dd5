"""What the hand and the breath do, on the sheet: beats, turns, phrases, pauses and events, row by row."""

from io import BytesIO

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sheets import reading_marks as read
from tests.sheets.reading_signs import ACTED, brackets, flags, heights, rows_of, signs, voices_on
from tests.sheets.voices import a_cell, a_speaker, acted, acted_brack, beats_of, two_voices
from trackread.core.performance import Tone
from trackread.core.sheet import Phrase
from trackread.core.timebase import Frame
from trackread.sheets.cells import UNSAID_DASH
from trackread.sheets.marks import WHITE, Line
from trackread.sheets.pauses import DOTS
from trackread.sheets.pdf import draw

EVERY = pytest.mark.parametrize("name", ACTED)


@EVERY
def test_each_main_beat_is_a_flag_on_the_whole_row_where_it_falls_and_nothing_else_is(name):
    for page in read.example(name):
        rows = rows_of(page)
        for voice in voices_on(page, name):
            found = [heights(path) for path in flags(page, read.lanes(page, voice.character)[0])]

            assert found == [
                pytest.approx(rows[beat.first]) for beat in voice.beats if beat.main and beat.first in rows
            ]


@EVERY
def test_the_turn_of_each_half_or_strong_beat_stands_on_its_row_and_those_of_phrases_on_their_last(name):
    turning = {Tone.RISE, Tone.FALL, Tone.PEAK}
    for page in read.example(name):
        rows = rows_of(page)
        for voice in voices_on(page, name):
            lane = read.lanes(page, voice.character)[0]
            beats = {beat.first for beat in voice.beats if beat.degree and beat.tone in turning}
            ends = {phrase.stop - 1 for phrase in voice.phrases if phrase.ending in turning}
            found = [
                row for path in signs(page, lane) for row in rows if rows[row][0] < heights(path)[0] < rows[row][1]
            ]
            filled = [path for path in signs(page, lane) if path.fill is not None]

            assert found == sorted(row for row in beats | ends if row in rows)
            assert len(filled) == len([row for row in ends if row in rows])
            assert all(lane.left < x < lane.right for path in signs(page, lane) for x, _ in path.points)


@pytest.mark.parametrize(("tone", "climb"), [(Tone.RISE, -1), (Tone.FALL, 1)])
def test_an_arrow_of_a_rise_goes_up_to_the_right_and_of_a_fall_down(tone, climb):
    voice = a_speaker(a_cell(4, 9, "Mind"), beats=beats_of((4, 9, 1, tone), main=()))
    page = read.pages_of(two_voices(voices=(voice,)))[0]
    (arrow,) = signs(page, read.lanes(page, "BRACK")[0])
    (x, y), (tip_x, tip_y), *barbs = arrow.points

    assert tip_x > x
    assert (tip_y - y) * climb > 5
    assert all(x < tip_x for x, _ in barbs[::2])


def test_level_and_pitchless_and_weak_beats_have_no_sign():
    beats = beats_of((0, 4, 2, Tone.LEVEL), (4, 8, 2, None), (8, 12, 0, Tone.RISE), main=())
    page = read.pages_of(two_voices(voices=(a_speaker(beats=beats),)))[0]

    assert signs(page, read.lanes(page, "BRACK")[0]) == []


def test_a_sign_on_a_flag_is_white_and_stays_within_it():
    page = read.example("acted-one")[0]
    lane = read.lanes(page, "BRACK")[0]
    (sign,) = (path for path in signs(page, lane) if path.tone == WHITE)
    (flag,) = flags(page, lane)

    assert heights(flag)[0] + 1 < heights(sign)[0] < heights(sign)[1] < heights(flag)[1] - 1
    assert min(x for x, _ in flag.points) + 1 < min(x for x, _ in sign.points)
    assert page.marks.index(sign) > page.marks.index(flag)


@EVERY
def test_a_bracket_holds_each_phrase_and_has_feet_where_it_begins_and_ends(name):
    for page in read.example(name):
        rows = rows_of(page)
        for voice in voices_on(page, name):
            lane = read.lanes(page, voice.character)[0]
            found = brackets(page, lane)
            here = [phrase for phrase in voice.phrases if phrase.first < max(rows) + 1 and min(rows) < phrase.stop]

            assert len(found) == len(here)
            for path, phrase in zip(found, here, strict=True):
                top, end = rows[max(phrase.first, min(rows))][0], rows[min(phrase.stop - 1, max(rows))][1]
                assert heights(path) == pytest.approx((top, end), abs=1.5)
                feet = (phrase.first in rows) + (phrase.stop - 1 in rows)
                assert len(path.points) == 2 + feet


@EVERY
def test_the_frames_of_a_pause_stand_once_on_a_page_amid_its_rows_and_clear_of_words(name):
    for page in read.example(name):
        rows = rows_of(page)
        for voice in voices_on(page, name):
            lane = read.lanes(page, voice.character)[1]
            lengths = [
                text for text in read.in_rows(page) if text.text.endswith(" fr") and lane.left < text.x < lane.right
            ]
            here = [pause for pause in voice.pauses if pause.text and {*range(pause.first, pause.stop)} & set(rows)]

            assert [text.text.removeprefix("…") for text in lengths] == [f"{pause.text} fr" for pause in here]
            for text, pause in zip(lengths, here, strict=True):
                first, last = max(pause.first, min(rows)), min(pause.stop - 1, max(rows))
                place = read.extent(text)
                assert rows[first][0] < place.top < place.bottom < rows[last][1]
                assert abs((place.top + place.bottom) / 2 - (rows[first][0] + rows[last][1]) / 2) < 20
                assert text.text.startswith("…") == (pause.first < min(rows))


@EVERY
def test_pauses_are_dotted_events_broken_and_words_held_by_unbroken_lines(name):
    for page in read.example(name):
        rows = rows_of(page)
        for voice in voices_on(page, name):
            lane = read.lanes(page, voice.character)[1]
            held = [
                mark
                for mark in page.marks
                if isinstance(mark, Line) and mark.x1 == mark.x2 and lane.left < mark.x1 < lane.right - 1
            ]
            kinds = {(): voice.words, UNSAID_DASH: voice.events, DOTS: voice.pauses}

            assert {line.dash for line in held} <= set(kinds)
            for line in held:
                row = max(row for row in rows if rows[row][0] < line.y1)
                assert any(cell.first <= row < cell.stop for cell in kinds[line.dash])
            paused = {row for pause in voice.pauses for row in range(pause.first, pause.stop) if row in rows}
            dotted = [line for line in held if line.dash == DOTS]
            assert {row for row in rows for dots in dotted if dots.y1 < sum(rows[row]) / 2 < dots.y2} == paused


def test_an_event_has_no_rule_above_it_as_a_word_has():
    page = read.example("acted-one")[0]
    lane, word, _ = read.lanes(page, "BRACK")
    ruled = {mark.y1 for mark in page.marks if isinstance(mark, Line) and (mark.x1, mark.x2) == (lane.left, word.right)}

    assert ruled == {rows_of(page)[cell.first][0] for cell in acted_brack().words if cell.first < 48}


@settings(max_examples=25)
@given(st.integers(1, 90), st.integers(2, 90))
def test_a_phrase_and_a_pause_of_any_length_keep_to_their_rows_over_all_pages(first, frames):
    stop = min(first + frames, 96)
    voice = a_speaker(phrases=(Phrase(Frame(first), Frame(stop)),), pauses=(a_cell(first, stop, str(stop - first)),))
    pages = read.pages_of(acted(voice))
    rows = set()
    for page in pages:
        lane, word, _ = read.lanes(page, "BRACK")
        for path in brackets(page, lane):
            top, end = heights(path)
            rows |= {row for row, (upper, lower) in rows_of(page).items() if top < (upper + lower) / 2 < end}
        assert all(word.left < read.extent(text).left for text in read.in_rows(page) if text.text.endswith(" fr"))

    assert rows == set(range(first, stop))


def test_a_bad_copy_in_black_and_white_keeps_the_flag_of_a_main_beat_from_a_strong_one():
    """Rendered at 100 dots to the inch and cut to two tones, its row has half as much ink again as a strong beat's."""
    words = [a_cell(first, first + 8, "x") for first in (0, 10)]
    beats = beats_of((0, 8, 2, Tone.FALL), (10, 18, 2, Tone.FALL), main=(10,))
    page = read.pages_of(two_voices(voices=(a_speaker(*words, beats=beats),), changed=()))[0]
    lane = read.lanes(page, "BRACK")[0]
    document = pypdfium2.PdfDocument(BytesIO(draw((page,), title="beats")))
    scale = 100 / 72
    picture = document[0].render(scale=scale).to_pil().convert("L").point(lambda tone: 255 * (tone > 110))
    ink = []
    for word in words:
        top, bottom = rows_of(page)[word.first]
        row = picture.crop(
            tuple(round(edge * scale) for edge in (lane.left + 1.2, top + 1.5, lane.right - 0.8, bottom - 1.5))
        )
        ink.append(row.histogram()[0] / (row.width * row.height))
    document.close()

    assert ink[1] > 1.5 * ink[0]
