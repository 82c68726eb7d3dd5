"""The laws of a shot's rows: what is placed in a cut is on the frames that the cut and the readings say, and no others.

Takes and cuts are made by hand and by hypothesis, at rates of SMPTE ST 12-1; what is expected is counted from the
readings' samples in exact maths.
"""

from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.makers import a_reading, readings
from tests.workflow.test_sheet_voice import performances
from trackread.core.cut import Place, Placement, Shot, Source, is_heard_in, piece_of
from trackread.core.plain import reading_to_plain
from trackread.core.reading import Reading
from trackread.core.rows import VoiceRow, rows_of
from trackread.core.session import Guess, Stretch, StretchKind, Take, Wholeness
from trackread.core.sheet import Heading
from trackread.core.sound import Sound
from trackread.core.timebase import Frame, Sample, frames_covering, parse_rate
from trackread.workflow.sheet_of_take import Terms, sheet_of_take
from trackread.workflow.shot_brief import HeardTake, ShotBrief, frames_of
from trackread.workflow.shot_sheet import SheetWish, sheet_of_shot
from trackread.workflow.shot_told import Told

HERE = Place("tram.edl", 1)
RATES = ("23.976", "24", "25", "29.97df", "30")
SPEEDS = [Fraction(text) for text in ("1", "1", "1", "2", "1/2", "-1", "24/25", "1001/1000")]
BEFORE_TAKE = 4800  # samples of the recording before each take
rates = st.sampled_from(RATES).map(parse_rate)


@dataclass(frozen=True)
class Spoken:
    """A take, its reading, who speaks, and where it plays."""

    character: str
    take: Take
    reading: Reading
    placement: Placement


def spoken(reading, *, at=0, length=None, slipped=0, speed=1, number=1, character="BRACK", rate="24"):
    """A take of a recording of its own, placed from the sample `slipped` of the take on; whole unless told."""
    samples, sample_rate = reading.sound.length, reading.sound.sample_rate
    stretch = Stretch(
        Sample(BEFORE_TAKE),
        Sample(BEFORE_TAKE + samples),
        StretchKind.TAKE,
        guesses=(Guess("L0107", 0.9, Wholeness.WHOLE),),
    )
    take = Take(1, number, stretch, StretchKind.TAKE, "L0107", number, Wholeness.WHOLE, circled=True, stand_in=False)
    edge = slipped if speed > 0 else samples - slipped
    heard = frames_covering(Fraction(samples) / abs(speed), sample_rate, parse_rate(rate)) if length is None else length
    placement = Placement(
        Source(Fraction(0)),
        Frame(at),
        heard,
        ("A1",),
        HERE,
        speed=Fraction(speed),
        sound=Sound("ab" * 32, sample_rate, Sample(2 * BEFORE_TAKE + samples)),
        start=Fraction(BEFORE_TAKE + edge),
    )
    return Spoken(character, take, reading, placement)


def a_shot(first=0, length=200, code="SH010", **changes):
    return replace(Shot(code, Frame(first), Frame(length), HERE), **changes)


def heard_in(shot, one, rate):
    """What is heard of a take in a shot, as a brief has it; None if nothing is."""
    if not is_heard_in(one.placement, shot):
        return None
    piece = piece_of(one.placement, shot)
    frames = range(shot.first + piece.first, shot.first + piece.stop)
    on = frames_of(one.take, one.placement, frames, rate)
    number = one.take.place
    return HeardTake(one.take, one.placement, on, "L0107", one.character, "", "", number, ()) if on else None


def sheet_in(shot, saids, rate):
    """The sheet of a shot in which some takes are placed."""
    takes = [heard for one in saids if (heard := heard_in(shot, one, rate))]
    heard = tuple(sorted(takes, key=lambda one: (one.character, one.frames.start)))
    brief = ShotBrief(shot, "1", heard, Told(), (), (), ())
    bodies = {one.take.place: reading_to_plain(one.reading, rate) for one in saids}
    return sheet_of_shot(brief, bodies, SheetWish(Terms(rate), "The Late Tram"))


def contents(sheet):
    """What each row says of every voice that has anything on it; a voice that is not in a shot has nothing there."""
    return [{one.character: one for one in row.voices if one != VoiceRow(one.character)} for row in rows_of(sheet)]


def contents_in(shot, saids, rate):
    return contents(sheet_in(shot, saids, rate))


@st.composite
def scenes(draw, most=2, characters=("BRACK", "TUM"), speeds=SPEEDS):
    """Takes placed anywhere in 200 frames, at any of the rates, perhaps one over another."""
    rate = draw(rates)
    found = []
    for number in range(1, draw(st.integers(1, most)) + 1):
        reading = draw(st.one_of(readings(), performances()))
        found.append(
            spoken(
                reading,
                at=draw(st.integers(0, 60)),
                length=draw(st.integers(1, 120)),
                slipped=draw(st.integers(-3000, reading.sound.length)),
                speed=draw(st.sampled_from(speeds)),
                number=number,
                character=draw(st.sampled_from(characters)),
            )
        )
    return rate, found


shots = st.lists(st.integers(1, 60), min_size=1, max_size=5)


def one_after_another(lengths):
    firsts = [sum(lengths[:number]) for number in range(len(lengths))]
    return [
        a_shot(first, length, f"SH{number}") for number, (first, length) in enumerate(zip(firsts, lengths, strict=True))
    ]


@given(scenes(), st.integers(1, 200), st.integers(0, 50))
def test_every_frame_of_a_shot_has_exactly_one_row(scene, length, fade_out):
    rate, saids = scene
    sheet = sheet_in(a_shot(length=length, fade_out=fade_out), saids, rate)

    assert [row.frame for row in rows_of(sheet)] == list(range(length + fade_out))


@given(scenes(), st.integers(0, 30))
def test_shifting_what_is_placed_by_n_frames_shifts_its_rows_by_n(scene, frames):
    rate, saids = scene
    moved = [replace(one, placement=replace(one.placement, at=one.placement.at + frames)) for one in saids]

    here, there = contents_in(a_shot(), saids, rate), contents_in(a_shot(length=200 + frames), moved, rate)
    assert there == [{}] * frames + here


@given(scenes(), st.integers(0, 100))
def test_where_in_the_film_a_shot_stands_makes_no_difference_to_its_sheet(scene, frames):
    rate, saids = scene
    moved = [replace(one, placement=replace(one.placement, at=one.placement.at + frames)) for one in saids]

    assert sheet_in(a_shot(frames), moved, rate) == sheet_in(a_shot(), saids, rate)


@given(scenes(), st.integers(1, 199))
def test_a_shot_that_is_cut_in_two_has_the_rows_it_had(scene, length):
    rate, saids = scene
    head, tail = a_shot(length=length), a_shot(length, 200 - length, part=2)

    assert contents_in(head, saids, rate) + contents_in(tail, saids, rate) == contents_in(a_shot(), saids, rate)


@given(scenes(), shots)
def test_the_sum_of_the_shots_is_the_cut(scene, lengths):
    rate, saids = scene
    each = [row for shot in one_after_another(lengths) for row in contents_in(shot, saids, rate)]

    assert each == contents_in(a_shot(length=sum(lengths)), saids, rate)


@given(scenes(characters=("BRACK",)), scenes(characters=("TUM",)))
def test_two_who_talk_at_once_do_not_touch_each_other_s_rows(scene, another):
    (rate, brack), (_, other) = scene, another
    tum = [
        replace(one, take=replace(one.take, place=one.take.place + 10, number=one.take.number + 10)) for one in other
    ]
    both = contents_in(a_shot(), [*brack, *tum], rate)

    for name, alone in (("BRACK", brack), ("TUM", tum)):
        expected = [row.get(name) for row in contents_in(a_shot(), alone, rate)]
        assert [row.get(name) for row in both] == expected


@given(readings(), rates, st.integers(0, 40), st.sampled_from(sorted(set(SPEEDS))))
def test_a_word_starts_on_the_frame_that_its_first_sample_and_the_speed_say(reading, rate, at, speed):
    """Frame floor(t · rate) of the film, t the seconds since the sound began to play: exact maths."""
    one = spoken(reading, at=at, speed=speed, rate=str(rate))
    (voice,) = sheet_in(a_shot(length=at + one.placement.length), [one], rate).voices
    texts = {}
    for word in reading.words if speed > 0 else reversed(reading.words):
        # Backwards, a word is first heard where it ends.
        since = reading.start(word) if speed > 0 else reading.sound.length - reading.stop(word)
        frame = at + floor(since / abs(speed) / reading.sound.sample_rate * rate.per_second)
        texts.setdefault(frame, []).append(word.text)

    assert {cell.first: cell.text for cell in voice.words} == {at: " ".join(words) for at, words in texts.items()}


@given(readings(), rates, st.integers(0, 40), st.integers(1, 60))
def test_a_line_that_is_split_over_two_shots_has_each_word_on_the_frames_of_the_film_on_which_the_whole_has_it(
    reading, rate, at, length
):
    one = spoken(reading, at=at, rate=str(rate))
    stop = max(at + one.placement.length, length + 1)
    (whole,) = sheet_in(a_shot(length=stop), [one], rate).voices
    halves = (a_shot(length=length), a_shot(length, stop - length, "SH020"))

    found = {}
    for shot in halves:
        for voice in sheet_in(shot, [one], rate).voices:
            for cell in voice.words:
                found.setdefault(cell.text, set()).update(range(shot.first + cell.first, shot.first + cell.stop))
    expected = {}
    for cell in whole.words:
        expected.setdefault(cell.text, set()).update(range(cell.first, cell.stop))
    assert found == expected


SAID = (("Mind", "M AY1 N D"), ("the", "DH AH0"), ("step", "S T EH1 P"))
# At 24 fps and 24 kHz a frame has 1000 samples: Mind on frames 2 to 5, the on 6 and 7, step on 8 to 11.
LENGTHS = [2000, *[1000] * 10, 2000]


def mind_the_step(**changes):
    return a_reading(*SAID, lengths=LENGTHS, **changes)


def words_of(shot, *saids):
    (voice,) = sheet_in(shot, saids, parse_rate("24")).voices
    return [(cell.first, cell.stop, cell.text, cell.before, cell.beyond) for cell in voice.words]


def test_a_line_of_pieces_of_three_takes_has_the_words_of_each_where_its_piece_plays():
    pieces = [
        spoken(mind_the_step(), at=10, slipped=2000, length=4, number=1),
        spoken(mind_the_step(), at=14, slipped=6000, length=2, number=2),
        spoken(mind_the_step(), at=20, slipped=8000, length=4, number=3),
    ]
    sheet = sheet_in(a_shot(length=30), pieces, parse_rate("24"))

    assert words_of(a_shot(length=30), *pieces) == [
        (10, 14, "Mind", False, False),
        (14, 16, "the", False, False),
        (20, 24, "step", False, False),
    ]
    assert sheet.heading.take == "L0107-1, L0107-2, L0107-3"
    assert [(line.take, line.first, line.stop) for line in sheet.lines] == [
        ("L0107-1", 10, 14),
        ("L0107-2", 14, 16),
        ("L0107-3", 20, 24),
    ]


def test_a_word_whose_start_is_not_heard_does_not_start_and_one_whose_end_is_not_heard_goes_on_beyond():
    one = spoken(mind_the_step(), at=10, slipped=4000, length=6)
    sheet = sheet_in(a_shot(length=30), [one], parse_rate("24"))

    assert words_of(a_shot(length=30), one) == [
        (10, 12, "Mind", True, False),
        (12, 14, "the", False, False),
        (14, 16, "step", False, True),
    ]
    starts = [row.frame for row in rows_of(sheet) if row.voices[0].word and row.voices[0].word.starts]
    assert starts == [12, 14]


def test_what_a_shot_s_ends_cut_off_is_marked_alike():
    one = spoken(mind_the_step(), at=10)

    assert words_of(a_shot(13, 7), one) == [
        (0, 3, "Mind", True, False),
        (3, 5, "the", False, False),
        (5, 7, "step", False, True),
    ]


def test_the_beat_of_a_syllable_whose_start_is_not_heard_does_not_start():
    one = spoken(mind_the_step(), at=10, slipped=4000)
    (voice,) = sheet_in(a_shot(length=30), [one], parse_rate("24")).voices

    assert [(beat.first, beat.stop, beat.before) for beat in voice.beats][:2] == [(10, 12, True), (12, 14, False)]


def test_at_twice_the_speed_words_start_at_half_the_frames_and_backwards_with_their_ends():
    """Retimed as M2 of a CMX list retimes: frame floor(sample / speed / 24000 * 24), counted by hand."""
    double = spoken(mind_the_step(), speed=2)
    backwards = spoken(mind_the_step(), speed=-1)

    assert [word[:3] for word in words_of(a_shot(length=14), double)] == [(1, 3, "Mind"), (3, 4, "the"), (4, 6, "step")]
    assert [word[:3] for word in words_of(a_shot(length=14), backwards)] == [
        (2, 6, "step"),
        (6, 8, "the"),
        (8, 12, "Mind"),
    ]


def saying_from(frames, word, *, at, slipped=0, number):
    """A take that says a word on its frames from `frames` on, for a second and a half."""
    reading = a_reading((word, "M AY1 N D"), lengths=[frames * 1000, *[9000] * 4, 1000])
    return spoken(reading, at=at, slipped=slipped, number=number, length=60)


@pytest.mark.parametrize(
    "overlapping",
    [
        # a word in the middle of a longer one, which goes on after it
        (saying_from(1, "Mind", at=0, number=1), spoken(mind_the_step(), at=10, number=2)),
        # of two words, that of the take that was placed first begins last
        (saying_from(12, "Mind", at=0, number=1), saying_from(3, "wait", at=5, number=2)),
        # two words that begin on one frame, the take that was placed first beginning last
        (saying_from(2, "Mind", at=0, slipped=-10000, number=1), saying_from(7, "wait", at=5, number=2)),
    ],
)
def test_of_one_voice_that_is_placed_over_itself_what_began_last_stands_whatever_the_shots_are(overlapping):
    whole = contents_in(a_shot(length=60), overlapping, parse_rate("24"))

    for length in range(1, 60):
        halves = a_shot(length=length), a_shot(length, 60 - length, "SH020")
        rows = [row for half in halves for row in contents_in(half, overlapping, parse_rate("24"))]
        assert rows == whole


@pytest.mark.parametrize("rate", RATES)
def test_a_take_that_is_placed_whole_has_the_rows_of_its_own_sheet(rate):
    one = spoken(mind_the_step(), rate=rate)
    shot = a_shot(length=one.placement.length)

    alone = sheet_of_take(one.reading, Terms(parse_rate(rate)), character="BRACK", heading=Heading())
    assert contents_in(shot, [one], parse_rate(rate)) == contents(alone)
