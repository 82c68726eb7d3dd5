"""A film as JSON, made into sheets again."""

import json

import pytest
from hypothesis import given, settings

from tests.exports.makers import a_film, a_sheet, a_shot, a_voice, films
from trackread.core.mouth import Worn
from trackread.core.performance import Tone
from trackread.core.sheet import Beat, Cell, Heading, PlacedLine, Sheet, Voice
from trackread.core.timebase import parse_rate
from trackread.exports.json_text import json_of
from trackread.exports.shot import ExportedShot, Film

SPANS = ("words", "sounds", "events", "manners", "departures", "missing")


def refused(text):
    raise AssertionError(f"{text} is no whole number")


def film_of(content):
    """The film of a document, whose numbers must all be whole."""
    plain = json.loads(content, parse_float=refused, parse_constant=refused)
    rate = parse_rate(plain["rate"])
    shots = tuple(
        ExportedShot(shot["name"], shot["scene"], shot["first"], sheet_of(shot, rate)) for shot in plain["shots"]
    )
    return Film(plain["title"], rate, plain["start"], shots)


def sheet_of(shot, rate):
    return Sheet(
        Heading(),
        rate,
        shot["length"],
        shot["first_number"],
        tuple(voice_of(voice) for voice in shot["voices"]),
        action=cells_of(shot["action"]),
        camera=cells_of(shot["camera"]),
        lines=tuple(PlacedLine(**line) for line in shot["lines"]),
    )


def voice_of(voice):
    beats = []
    for beat in voice["beats"]:
        tone = beat.pop("pitch")
        beats.append(Beat(**beat, tone=tone and Tone(tone)))
    parts = {name: cells_of(voice[name]) for name in SPANS}
    parts |= {"beats": tuple(beats), "mouths": tuple(Worn(**worn) for worn in voice["mouths"])}
    return Voice(voice["character"], level=(), pitch=(), extension=voice["extension"], **parts)


def cells_of(plain):
    return tuple(Cell(**cell) for cell in plain)


@settings(max_examples=60)
@given(films())
def test_a_film_comes_back_whole_from_its_document(film):
    assert film_of(json_of(film)) == film


@settings(max_examples=20)
@given(films())
def test_one_film_has_one_document(film):
    assert json_of(film) == json_of(film_of(json_of(film)))


@pytest.mark.parametrize(
    ("rate", "written"), [("24", "24/1"), ("23.976", "24000/1001"), ("29.97df", "30000/1001df"), ("50", "50/1")]
)
def test_a_rate_is_written_as_a_quotient_of_whole_numbers(rate, written):
    assert json.loads(json_of(a_film(a_shot(sheet=a_sheet(rate=rate)))))["rate"] == written


def test_every_shot_has_a_line_of_its_own_in_utf_8():
    film = a_film(a_shot(sheet=a_sheet(a_voice(words=(Cell(0, 2, "naïve…"),)))), a_shot("SH020", 24))
    lines = json_of(film).splitlines()

    assert lines[0] == b'{"title": "The Late Tram", "rate": "24/1", "start": 86400, "shots": ['
    assert [line.startswith(b'{"name": "SH0') for line in lines[1:-1]] == [True, True]
    assert "naïve…".encode() in lines[1]


def test_an_example_says_what_is_on_which_frame():
    shot = json.loads(json_of(a_film()))["shots"][0]

    assert {name: shot[name] for name in ("name", "scene", "first", "length", "first_number")} == {
        "name": "SH010",
        "scene": "12",
        "first": 0,
        "length": 24,
        "first_number": 1,
    }
    assert shot["lines"] == [
        {
            "line": "12.3",
            "take": "A1/4",
            "character": "BRACK",
            "extension": "O.S.",
            "text": "Mind the step!",
            "first": 2,
            "stop": 20,
        }
    ]
    assert shot["voices"][0]["words"][0] == {"first": 2, "stop": 8, "text": "Mind", "before": False, "beyond": False}
    assert shot["voices"][0]["beats"][2] == {
        "first": 10,
        "stop": 20,
        "degree": 2,
        "pitch": "fall",
        "main": True,
        "before": False,
    }
