"""A sheet as its rows: every frame has one, and what starts, starts once."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from trackread.core.performance import Tone
from trackread.core.rows import JOINT, Held, VoiceRow, held, rows_of, stress_on
from trackread.core.sheet import Beat, Cell, Heading, Sheet, Voice
from trackread.core.timebase import Frame, parse_rate

LENGTH = 30
TEXTS = ("Mind", "the", "step")


def a_cell(first, stop, text="Mind", **changes):
    return Cell(Frame(first), Frame(stop), text, **changes)


def a_voice(character="BRACK", **columns):
    return replace(Voice(character, (), (), (), (), ()), **columns)


def a_sheet(*voices, length=LENGTH, **changes):
    return replace(Sheet(Heading(), parse_rate("24"), Frame(length), 1, voices), **changes)


spans = st.tuples(st.integers(0, LENGTH - 1), st.integers(1, 9)).map(lambda pair: (pair[0], min(LENGTH, sum(pair))))
cells = st.builds(
    lambda span, text, before: a_cell(*span, text, before=before), spans, st.sampled_from(TEXTS), st.booleans()
)
columns = st.lists(cells, max_size=8).map(tuple)
voices = st.builds(a_voice, st.sampled_from(["BRACK", "TUM"]), words=columns, sounds=columns, events=columns)


@given(st.lists(voices, max_size=3), columns, st.integers(LENGTH, 60))
def test_every_frame_has_exactly_one_row_with_every_voice_on_it(some, action, length):
    sheet = a_sheet(*some, length=length, action=action)

    assert [row.frame for row in rows_of(sheet)] == list(range(length))
    assert all(
        [voice.character for voice in row.voices] == [voice.character for voice in some] for row in rows_of(sheet)
    )


@given(columns)
def test_what_starts_starts_once_and_what_is_cropped_does_not_start(some):
    starts = [frame for frame, one in enumerate(held(some, LENGTH)) if one and one.starts]

    assert starts == sorted({cell.first for cell in some if not cell.before})


@given(columns)
def test_on_each_frame_stands_what_began_last_and_what_goes_on_from_before_began_before_what_starts(some):
    column = held(some, LENGTH)

    for frame in range(LENGTH):
        on = [cell for cell in some if cell.first <= frame < cell.stop]
        last = max(((cell.first, not cell.before) for cell in on), default=None)
        texts = [cell.text for cell in on if (cell.first, not cell.before) == last]
        assert (column[frame] and column[frame].text) == (JOINT.join(texts) or None)


def test_a_text_that_another_covers_goes_on_after_it_and_does_not_start_again():
    column = held([a_cell(0, 4, "turns"), a_cell(1, 2, "waves")], 4)

    assert [(one.text, one.starts) for one in column] == [
        ("turns", True),
        ("waves", True),
        ("turns", False),
        ("turns", False),
    ]


def test_texts_that_start_on_one_frame_are_joined_as_long_as_they_hold():
    column = held([a_cell(2, 4, "turns"), a_cell(2, 3, "waves")], 6)

    assert column[2:5] == [Held("turns; waves", starts=True), Held("turns", starts=False), None]


def test_what_began_before_gives_way_to_what_starts_and_is_joined_with_what_began_before_too():
    turns = a_cell(0, 3, "turns", before=True)

    starting = held([turns, a_cell(0, 2, "waves")], 3)
    assert starting == [Held("waves", starts=True), Held("waves", starts=False), Held("turns", starts=False)]
    assert held([turns, a_cell(0, 2, "waves", before=True)], 1) == [Held("turns; waves", starts=False)]


def test_what_is_missing_stands_with_what_is_said_otherwise():
    voice = a_voice(departures=(a_cell(1, 2, 'script: "gap"'),), missing=(a_cell(3, 4, 'script has "the"'),))

    texts = [row.voices[0].departure for row in rows_of(a_sheet(voice, length=5))]
    assert [one and one.text for one in texts] == [None, 'script: "gap"', None, 'script has "the"', None]


def test_a_turn_and_a_main_mark_stand_where_the_syllable_starts_and_its_degree_on_all_its_frames():
    beat = Beat(Frame(1), Frame(3), 2, Tone.FALL, main=True)
    rows = [row.voices[0] for row in rows_of(a_sheet(a_voice(beats=(beat,)), length=4))]

    assert rows[1] == VoiceRow("BRACK", stress=Held("strong", starts=True), tone=Tone.FALL, main=True)
    assert rows[2] == VoiceRow("BRACK", stress=Held("strong", starts=False))
    assert rows[0] == rows[3] == VoiceRow("BRACK")


def test_a_syllable_that_began_before_the_sheet_is_no_beat_to_time_anything_off():
    beat = Beat(Frame(0), Frame(2), 2, Tone.FALL, main=True, before=True)
    rows = [row.voices[0] for row in rows_of(a_sheet(a_voice(beats=(beat,)), length=2))]

    assert rows == [VoiceRow("BRACK", stress=Held("strong", starts=False))] * 2


def first_of(beat):
    return beat.first


beats = st.lists(spans.map(lambda span: Beat(Frame(span[0]), Frame(span[1]), 1)), max_size=8, unique_by=first_of)


@given(beats)
def test_on_each_frame_stands_the_syllable_that_began_last(some):
    stress, _, _ = stress_on(some, LENGTH)
    for frame, held_there in enumerate(stress):
        on = [one.first for one in some if one.first <= frame < one.stop]

        assert (held_there is not None) == bool(on)
        assert bool(held_there and held_there.starts) == (frame in on)


def test_level_pitch_pauses_and_phrases_are_no_part_of_the_rows():
    plain = a_voice(words=(a_cell(1, 3),))
    drawn = replace(plain, level=(0.5,) * 40, pitch=(0.5,) * 40, pauses=(a_cell(3, 5, "2"),))

    assert rows_of(a_sheet(drawn, length=5)) == rows_of(a_sheet(plain, length=5))
