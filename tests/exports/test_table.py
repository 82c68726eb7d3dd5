"""The tables of frames and lines, against the rows of the sheets and against the timecode of OpenTimelineIO."""

from hypothesis import given, settings
from hypothesis import strategies as st
from opentimelineio import opentime

from tests.exports.makers import LINE, a_film, a_sheet, a_shot, a_voice, films
from trackread.core.correction import DEGREES
from trackread.core.mouth import Worn
from trackread.core.performance import Tone
from trackread.core.rows import Held, rows_of
from trackread.core.sheet import Beat, Cell
from trackread.core.timebase import parse_rate
from trackread.exports.table import frames_table, lines_table

# Such texts do not look as if they went on.
plain = st.sampled_from(["Mind", "the", "step!", "=1"])


def records(table):
    """The rows of a table as dicts, each of which must be as long as the heading."""
    return [dict(zip(table.heading, row, strict=True)) for row in table.rows()]


def held_by(rows, name):
    """What is held on each frame of a shot, from the texts of a column and the numbers beside it."""
    found = [None] * len(rows)
    for frame, row in enumerate(rows):
        if text := row[name]:
            starts = not text.startswith("…")
            stop = frame + row[f"{name} frames"]
            found[frame] = Held(text.removeprefix("…"), starts)
            found[frame + 1 : stop] = [Held(text.removeprefix("…"), starts=False)] * (stop - frame - 1)
    assert len(found) == len(rows)
    return found


@settings(max_examples=60)
@given(films(plain))
def test_what_is_held_on_every_frame_comes_back_from_the_texts_and_their_numbers(film):
    rows = records(frames_table(film))

    assert len(rows) == frames_table(film).count == sum(shot.sheet.length for shot in film.shots)
    for shot in film.shots:
        here, rows = rows[: shot.sheet.length], rows[shot.sheet.length :]
        expected = rows_of(shot.sheet)
        for number, voice in enumerate(shot.sheet.voices):
            for name in ("word", "sound", "event", "manner", "departure", "mouth"):
                theirs = [getattr(row.voices[number], name) for row in expected]
                assert held_by(here, f"{voice.character} {name}") == theirs
            said = [row.voices[number] for row in expected]
            assert [row[f"{voice.character} pitch"] for row in here] == [row.tone or "" for row in said]
            assert [row[f"{voice.character} stress"].endswith(", main") for row in here] == [row.main for row in said]
        assert held_by(here, "action") == [row.action for row in expected]
        assert held_by(here, "camera") == [row.camera for row in expected]


# opentimelineio 0.18.1 is right in the first hours of a day at all rates; non-drop it begins a day 86.4 s early.
@settings(max_examples=60)
@given(films(plain))
def test_every_row_has_the_timecode_that_opentimelineio_gives_its_frame(film):
    rows = iter(records(frames_table(film)))
    rate = float(film.rate.per_second)

    for shot in film.shots:
        for frame in range(shot.sheet.length):
            row = next(rows)
            time = opentime.RationalTime(film.start + shot.first + frame, rate)
            assert row["timecode"] == opentime.to_timecode(time, rate, film.rate.drop)
            assert row["frame"] == shot.sheet.first_number + frame


def test_columns_are_those_of_every_character_of_the_film():
    film = a_film(a_shot("SH010", 0, a_sheet(a_voice("TUM"))), a_shot("SH020", 24))
    heading = frames_table(film).heading

    assert heading[:4] == ("shot", "scene", "frame", "timecode")
    assert heading[4:19] == (
        *("TUM word", "TUM word frames", "TUM sound", "TUM sound frames", "TUM stress", "TUM stress frames"),
        *("TUM pitch", "TUM event", "TUM event frames", "TUM manner", "TUM manner frames"),
        *("TUM departure", "TUM departure frames", "TUM mouth", "TUM mouth frames"),
    )
    assert [name.replace("BRACK", "TUM") for name in heading[19:34]] == list(heading[4:19])
    assert heading[34:] == ("action", "action frames", "camera", "camera frames", "position", "position frames")


def test_who_is_not_in_a_shot_has_empty_cells_there():
    rows = records(frames_table(a_film()))

    assert {row[name] for row in rows[24:] for name in row if name.startswith("BRACK")} == {""}
    assert {row["BRACK word"] for row in rows[:24]} == {"", "Mind", "the", "step!"}


def test_a_text_stands_once_with_the_number_of_its_frames():
    rows = records(frames_table(a_film()))

    assert [(row["frame"], row["BRACK word"], row["BRACK word frames"]) for row in rows if row["BRACK word"]] == [
        (3, "Mind", 6),
        (9, "the", 2),
        (11, "step!", 10),
    ]


def test_a_word_that_began_before_the_shot_goes_on_in_it():
    voice = a_voice(words=(Cell(0, 3, "Mind", before=True), Cell(3, 5, "the")))
    rows = records(frames_table(a_film(a_shot(sheet=a_sheet(voice)))))

    assert [row["BRACK word"] for row in rows[:5]] == ["…Mind", "", "", "the", ""]


def test_a_stress_that_another_stood_in_the_place_of_goes_on_after_it():
    voice = a_voice(beats=(Beat(0, 6, 2), Beat(2, 4, 0)))
    rows = records(frames_table(a_film(a_shot(sheet=a_sheet(voice)))))

    assert [row["BRACK stress"] for row in rows[:6]] == ["strong", "", "weak", "", "…strong", ""]


def test_a_mouth_stands_where_it_is_put_on_with_the_number_of_its_frames():
    mouths = (Worn("lips shut", 0, 2), Worn("jaw down", 2, 5, pinned=True), Worn("lips shut", 5, 24))
    rows = records(frames_table(a_film(a_shot(sheet=a_sheet(a_voice(mouths=mouths))))))

    assert [(row["frame"], row["BRACK mouth"], row["BRACK mouth frames"]) for row in rows if row["BRACK mouth"]] == [
        (1, "lips shut", 2),
        (3, "jaw down", 3),
        (6, "lips shut", 19),
    ]


def test_one_word_said_twice_stands_twice():
    voice = a_voice(words=(Cell(0, 2, "no"), Cell(2, 5, "no")))
    rows = records(frames_table(a_film(a_shot(sheet=a_sheet(voice)))))

    assert [(row["BRACK word"], row["BRACK word frames"]) for row in rows[:3]] == [("no", 2), ("", ""), ("no", 3)]


def test_stress_says_its_degree_its_turn_and_the_main_beat():
    beats = tuple(Beat(2 * degree, 2 * degree + 2, degree, Tone.FALL, main=degree == 2) for degree in range(3))
    rows = records(frames_table(a_film(a_shot(sheet=a_sheet(a_voice(beats=beats))))))

    assert [row["BRACK stress"] for row in rows[:6:2]] == [DEGREES[0], DEGREES[1], f"{DEGREES[2]}, main"]
    assert [row["BRACK pitch"] for row in rows[:6]] == ["fall", ""] * 3


def test_a_line_has_a_row_with_the_frames_where_it_is_heard():
    film = a_film(a_shot("SH010", 0), a_shot("SH020", 24), start=86400)
    table = lines_table(film)

    assert table.count == 2
    assert records(table)[1] == {
        "shot": "SH020",
        "scene": "12",
        "frame": LINE.first + 1,
        "timecode": "01:00:01:02",
        "frames": 18,
        "line": "12.3",
        "take": "A1/4",
        "character": "BRACK",
        "extension": "O.S.",
        "text": "Mind the step!",
    }


def test_drop_frame_timecode_leaves_out_its_numbers():
    # SMPTE ST 12-1: at 29.97 drop-frame, frame 1800 is 00:01:00;02.
    film = a_film(a_shot(sheet=a_sheet(rate="29.97df", length=2)), start=1799)

    assert parse_rate("29.97df").drop
    assert [row["timecode"] for row in records(frames_table(film))] == ["00:00:59;29", "00:01:00;02"]


def test_a_table_can_be_read_again():
    table = frames_table(a_film())

    assert list(table.rows()) == list(table.rows())
