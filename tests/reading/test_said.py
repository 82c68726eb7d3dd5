"""What is said, word by word: its numbers on the sheet, what stands there, and what departures and hints point at."""

import pytest

from tests.makers import steps_saying
from trackread.core.performance import Departure, DepartureKind, EventKind
from trackread.core.phones import respelling
from trackread.core.reading import Source
from trackread.reading.course import Step, StepKind
from trackread.reading.departures import Said
from trackread.reading.events import Hint
from trackread.reading.lexicon import Lexicon, bare
from trackread.reading.line import Line, prepare
from trackread.reading.proposals import Proposal, proposals_of
from trackread.reading.said import BROKEN_OFF, SaidWord, departures_in, hints_of, said_words
from trackread.reading.sounds import RATE
from trackread.reading.stretches import Span
from trackread.reading.told import Told

LINE = prepare("Route 42 please, ticket", Lexicon())  # spoken: 0 route, 1 forty, 2 two, 3 please, 4 ticket


def steps(said: str, line: Line = LINE) -> tuple[Step, ...]:
    return steps_saying(said, line.ways)


def told(said: str, line: Line = LINE, seconds: int = 10) -> Told:
    """A take of one stretch in which every departure is believed."""
    course = steps(said, line)
    words = len(line.spoken)
    span = Span(0, seconds * RATE, 0, words)
    return Told((span,), (Said(course, proposals_of(course, words)),), None)


def words(said: str) -> list[SaidWord]:
    return said_words(told(said), LINE)


def departures(said: str) -> tuple[Departure, ...]:
    return departures_in(told(said), LINE, words(said))


def texts(found: list[SaidWord]) -> list[str]:
    """What stands on the sheet, a text for each number; all spoken words of a number have the same."""
    numbered = dict.fromkeys((word.number, word.text) for word in found)
    assert [number for number, _ in numbered] == list(range(len(numbered)))
    return [text for _, text in numbered]


def test_a_line_said_as_written_has_its_written_words_and_no_departures() -> None:
    found = words("0 1 2 3 4")

    assert texts(found) == ["Route", "42", "please,", "ticket"]
    assert [word.number for word in found] == [0, 1, 1, 2, 3]
    assert [word.written for word in found] == [0, 1, 1, 2, 3]
    assert [word.spoken for word in found] == list(LINE.spoken)
    assert [word.ways for word in found] == list(LINE.ways)
    assert not any(word.departs for word in found)
    assert departures("0 1 2 3 4") == ()


@pytest.mark.parametrize(
    ("said", "sheet"),
    [
        ("0 1 2 1 2 3 4", ["Route", "42", "42", "please,", "ticket"]),
        ("0 1 1 2 3 4", ["Route", "42", "42", "please,", "ticket"]),
        ("0 1 3 4", ["Route", "42", "please,", "ticket"]),
        ("0 2 3 4", ["Route", "42", "please,", "ticket"]),
        ("0 0 1 2 3 4", ["Route", "Route", "42", "please,", "ticket"]),
        ("0 1 2 4", ["Route", "42", "ticket"]),
    ],
)
def test_a_number_said_again_or_in_part_is_again_one_word_on_the_sheet(said: str, sheet: list[str]) -> None:
    assert texts(words(said)) == sheet


def test_a_word_broken_off_ends_in_a_dash_and_is_as_it_was_heard() -> None:
    found = words("0 1 2 3- 3 4")[3]

    assert found.text.endswith(BROKEN_OFF)
    assert BROKEN_OFF == "–"  # an en dash, U+2013
    assert "please".startswith(found.text.removesuffix(BROKEN_OFF))
    assert len(found.text) > 1
    assert found.source is Source.HEARD
    assert found.ways == (bare(LINE.ways[3][0])[:2],)
    assert found.departs
    assert texts(words("0 1 2 3- 3 4")) == ["Route", "42", found.text, "please,", "ticket"]


def test_a_part_of_a_number_is_written_as_it_is_spoken() -> None:
    assert texts(words("0 1- 1 2 3 4")) == ["Route", "fo–", "42", "please,", "ticket"]


def test_even_a_word_of_one_letter_can_break_off() -> None:
    line = prepare("I see", Lexicon())
    part = Step(StepKind.PART, 0, ("AY",), (0.5,))
    take = Told((Span(0, RATE, 0, 2),), (Said((part, *steps("0 1", line)), ()),), None)

    assert [word.text for word in said_words(take, line)] == ["i–", "I", "see"]


def test_a_word_broken_off_on_its_last_phone_still_lacks_a_letter() -> None:
    (whole,) = steps("3")
    take = Told((Span(0, RATE, 0, 5),), (Said((Step(StepKind.PART, 3, whole.phones, whole.times),), ()),), None)

    assert [word.text for word in said_words(take, LINE)] == ["pleas–"]


def test_what_is_no_word_of_the_line_is_respelt() -> None:
    found = words("0 ? 1 2 3 4")[1]

    assert found.text == found.spoken == "".join(map(respelling, ("G", "UW", "V"))) == "goov"
    assert (found.source, found.written, found.departs) == (Source.HEARD, None, True)
    assert found.ways == (("G", "UW", "V"),)


def test_words_come_from_where_their_pronunciation_does() -> None:
    line = prepare("Mumblethorpe please", Lexicon({"mumblethorpe": (("M", "AH1", "M"),)}))

    assert [word.source for word in said_words(told("0 1", line), line)] == [Source.PRODUCTION, Source.DICTIONARY]


@pytest.mark.parametrize(
    ("said", "kind", "span", "written"),
    [
        ("0 1 2 4", "dropped", (2, 2), "please,"),
        ("0 3 4", "dropped", (1, 1), "42"),
        ("1 2 3 4", "dropped", (0, 0), "Route"),
        ("0 1 2 3", "dropped", (3, 3), "ticket"),
        ("0 1 2", "dropped", (2, 2), "please, ticket"),
        ("0 1 2 ? 3 4", "added", (2, 3), ""),
        ("0 1 2 3 4 ?", "added", (4, 5), ""),
        ("0 1 2 1 2 3 4", "repeated", (1, 2), ""),
        ("0 1 2 0 1 2 3 4", "repeated", (0, 2), ""),
        ("0 ? 3 4", "swapped", (1, 2), "42"),
        ("0 1 2 ?", "swapped", (2, 3), "please, ticket"),
        ("0 1 2 3- 3 4", "restart", (2, 3), ""),
        ("0 1 2 3 4- 3 4", "restart", (2, 4), ""),
    ],
)
def test_a_departure_points_at_its_words_on_the_sheet(
    said: str, kind: str, span: tuple[int, int], written: str
) -> None:
    assert departures(said) == (Departure(DepartureKind(kind), *span, written),)


def test_departures_of_a_take_follow_one_another() -> None:
    assert departures("0 0 1 2 ? 3") == (
        Departure(DepartureKind.REPEATED, 0, 1, ""),
        Departure(DepartureKind.ADDED, 3, 4, ""),
        Departure(DepartureKind.DROPPED, 5, 5, "ticket"),
    )


def test_a_take_that_says_nothing_has_dropped_its_whole_line() -> None:
    assert words("") == []
    assert departures("") == (Departure(DepartureKind.DROPPED, 0, 0, "Route 42 please, ticket"),)


def two_stretches() -> Told:
    """Words 0 to 2 in the first four seconds, then 3 said again and 4 left out."""
    second = (steps("3")[0], steps("3")[0])
    local = tuple(Step(step.kind, 0, step.phones, step.times) for step in second)
    return Told(
        (Span(0, 4 * RATE, 0, 3), Span(4 * RATE, 9 * RATE, 3, 5)),
        (
            Said(steps("0 1 2"), ()),
            Said(local, (Proposal(DepartureKind.REPEATED, 0, 1, 0, 0), Proposal(DepartureKind.DROPPED, 2, 2, 1, 2))),
        ),
        None,
    )


def test_stretches_go_on_where_the_one_before_ends() -> None:
    found = said_words(two_stretches(), LINE)

    assert texts(found) == ["Route", "42", "please,", "please,"]
    assert [word.departs for word in found] == [False, False, False, True, False]
    assert found[2].times[-1] < 4 < 4 + 0.5 <= found[3].times[0]
    assert departures_in(two_stretches(), LINE, found) == (
        Departure(DepartureKind.REPEATED, 2, 3, ""),
        Departure(DepartureKind.DROPPED, 4, 4, "ticket"),
    )


def test_a_number_on_both_sides_of_a_cut_is_one_word() -> None:
    course = steps("0 1 2 3 4")
    after = tuple(Step(step.kind, step.word - 2, step.phones, step.times) for step in course[2:])
    take = Told((Span(0, RATE, 0, 2), Span(RATE, 2 * RATE, 2, 5)), (Said(course[:2], ()), Said(after, ())), None)

    assert texts(said_words(take, LINE)) == ["Route", "42", "please,", "ticket"]


HINTED = prepare("[sighs] Hold tight [laughs] please [gasps]", Lexicon())


def hints(said: str) -> list[Hint]:
    return hints_of(HINTED, said_words(told(said, HINTED), HINTED), 10.0)


def test_hints_lie_between_their_words() -> None:
    hold, tight, please = steps("0 1 2", HINTED)

    assert hints("0 1 2") == [
        Hint(EventKind.SIGH, 0.0, hold.times[0]),
        Hint(EventKind.LAUGH, tight.times[-1], please.times[0]),
        Hint(EventKind.GASP, please.times[-1], 10.0),
    ]


def test_a_hint_beside_a_word_left_out_lies_between_those_that_are_said() -> None:
    hold, please = steps("0 2", HINTED)

    assert hints("0 2")[1] == Hint(EventKind.LAUGH, hold.times[-1], please.times[0])
    assert hints("") == [Hint(asked.kind, 0.0, 10.0) for asked in HINTED.asked]


@pytest.mark.parametrize("said", ["0 1 2 0 1 2", "0 1 1 2", "0 1 2 2", "0 1 ? 2", "0 1 2- 1 2", "2 0 1 2"])
def test_of_words_said_again_a_hint_lies_between_the_last(said: str) -> None:
    course = steps(said, HINTED)
    last = {step.word: step.times for step in course if step.kind is StepKind.WORD}

    assert hints(said)[1] == Hint(EventKind.LAUGH, last[1][-1], last[2][0])
