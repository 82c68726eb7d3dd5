"""A line made ready to be found: its words as before, and beside them what its hints ask for."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.performance import EventKind
from trackread.core.reading import Source
from trackread.reading.lexicon import Lexicon
from trackread.reading.line import NAMES, Asked, kind_named, prepare
from trackread.reading.variants import ways_with_variants

LEXICON = Lexicon({"mumblethorpe": (("M", "AH1", "M", "B", "AH0", "L", "TH", "AO2", "R", "P"),)})


@pytest.mark.parametrize("name", NAMES)
def test_each_name_is_found_however_a_hint_puts_it(name: str) -> None:
    hints = [f"[{name}]", f"({name.upper()})", f"[{name}, then turns]", f"(quietly,  {name})"]

    assert [prepare(f"{hint} Hold tight", LEXICON).asked for hint in hints] == [(Asked(NAMES[name], 0),)] * len(hints)


# Hints as scripts have them: common practice, no source.
@pytest.mark.parametrize(
    ("hint", "kind"),
    [
        ("laughs", EventKind.LAUGH),
        ("with a chuckle", EventKind.LAUGH),
        ("giggling", EventKind.LAUGH),
        ("breathes in", EventKind.BREATH_IN),
        ("takes a breath", EventKind.BREATH_IN),
        ("breathes out", EventKind.BREATH_OUT),
        ("breathe out", EventKind.BREATH_OUT),
        ("breathing out slowly", EventKind.BREATH_OUT),
        ("exhales", EventKind.BREATH_OUT),
        ("sighing", EventKind.SIGH),
        ("quietly, with a sigh", EventKind.SIGH),
        ("GASPS", EventKind.GASP),
        ("clears his throat", EventKind.COUGH),
        ("hums", EventKind.HUM),
        ("humming a tune", EventKind.HUM),
        ("a hum, low", EventKind.HUM),
        ("whispered", EventKind.WHISPER),
        ("shouting", EventKind.SHOUT),
        ("yells", EventKind.SHOUT),
    ],
)
def test_a_hint_is_known_in_any_of_its_forms(hint: str, kind: EventKind) -> None:
    assert kind_named(hint) is kind


@pytest.mark.parametrize(
    "hint", ["quietly", "", "  ", "to Tum", "humbly", "with good humour", "the yellow one", "thumbs up", "42"]
)
def test_a_hint_that_names_nothing_heard_asks_for_nothing(hint: str) -> None:
    assert prepare(f"({hint}) Hold tight", LEXICON).asked == ()


def test_hints_are_asked_for_where_they_stand() -> None:
    asked = prepare("[laughs] Hold (quietly) tight, [gasps] please! [sighs]", LEXICON).asked

    assert asked == (Asked(EventKind.LAUGH, 0), Asked(EventKind.GASP, 2), Asked(EventKind.SIGH, 3))


def test_a_number_counts_once_before_a_hint_however_many_words_it_is_said_in() -> None:
    assert prepare("Route 42 [laughs] please", LEXICON).asked == (Asked(EventKind.LAUGH, 2),)


def test_hints_inside_hints_are_asked_for_between_the_words_around_them() -> None:
    asked = prepare("Hold (quietly [laughs] still) tight ((very) sadly sighing)", LEXICON).asked

    assert asked == (Asked(EventKind.LAUGH, 1), Asked(EventKind.SIGH, 2))


@given(st.lists(st.sampled_from(["[laughs]", "(quietly)", "(sighs, [twice])", "[]"]), min_size=5, max_size=5))
def test_hints_change_none_of_the_words(hints: list[str]) -> None:
    words = ["Route", "42,", "Mumblethorpe", "please!"]
    mixed = " ".join(part for pair in zip(hints, [*words, ""], strict=True) for part in pair)
    plain, line = prepare(" ".join(words), LEXICON), prepare(mixed, LEXICON)

    assert (line.written, line.spoken, line.entries) == (plain.written, plain.spoken, plain.entries)
    assert (line.ways, line.owner) == (plain.ways, plain.owner)


def test_every_spoken_word_is_owned_by_its_written_word() -> None:
    line = prepare("Route 42, Mumblethorpe", LEXICON)

    assert [word.text for word in line.written] == ["Route", "42,", "Mumblethorpe"]
    assert line.spoken == ("route", "forty", "two", "mumblethorpe")
    assert line.owner == (0, 1, 1, 2)


def test_words_may_be_said_in_their_variants_but_the_productions_own_only_its_way() -> None:
    line = prepare("to Mumblethorpe", LEXICON)

    assert line.ways[0] == ways_with_variants("to", Lexicon().look_up("to").ways)
    assert line.ways[1] == LEXICON.own["mumblethorpe"]


def test_a_written_word_is_a_guess_if_any_part_of_it_is() -> None:
    line = prepare("Mumblethorpe tram-blorf tram", LEXICON)

    assert [line.source_of(k) for k in range(3)] == [Source.PRODUCTION, Source.GUESS, Source.DICTIONARY]
