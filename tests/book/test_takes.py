"""Takes as they stand after what people decide, found by every name they have."""

import time

import pytest

from tests.book.makers import FOUND, a_draft, a_session, a_session_with_takes, a_stretch, a_take
from trackread.book.takes import assign, circle, decisions, take_named, takes
from trackread.core.session import StretchKind, Wholeness
from trackread.errors import BookError


@pytest.fixture
def session(tmp_path, book):
    """S1 with L0001-1, L0001-2, chatter, L0002-1 and one that nobody is sure of."""
    return a_session_with_takes(book, tmp_path)


@pytest.mark.usefixtures("session")
@pytest.mark.parametrize("name", ["S1-002", "s1-2", "L0001-2", " l0001-2 ", "S01-0002"])
def test_a_take_is_found_by_either_name_in_capitals_or_not(book, name):
    assert take_named(book, name).stretch == FOUND[1]


@pytest.mark.usefixtures("session")
@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("17", "'17' is not the name of a take: write it as S2-017 or L0107-3"),
        ("L1-1", "'L1-1' is not the name of a take"),
        ("S1-006", "there is no stretch S1-006 in S1: they run from S1-001 to S1-005"),
        ("S4-001", "there is no session S4: they run from S1 to S1"),
        ("L0001-3", "there is no take L0001-3: L0001 has L0001-1, L0001-2"),
        ("L0003-1", "there is no take L0003-1: L0003 has no takes"),
        ("L0999-1", "there is no line L0999: no draft of the script has had it"),
    ],
)
def test_a_name_of_no_take_is_told_with_what_would_be_right(book, name, told):
    with pytest.raises(BookError) as caught:
        take_named(book, name)

    assert str(caught.value).startswith(told)


@pytest.mark.usefixtures("session")
def test_takes_are_asked_for_by_line_session_and_kind(tmp_path, book):
    a_session_with_takes(book, tmp_path, content=b"another reel")

    def places(**asked):
        return [take.stretch_name for take in takes(book, **asked)]

    assert places(line="L0001") == ["S1-001", "S1-002", "S2-001", "S2-002"]
    assert places(session=2, line_ids={"L0001", "L0002"}) == ["S2-001", "S2-002", "S2-004"]
    assert places(line="L0001", line_ids={"L0002"}) == places(line_ids=()) == []
    assert places(kind=StretchKind.UNSURE) == ["S1-005", "S2-005"]
    assert places(line_ids=[f"L{number:04}" for number in range(1, 40_000)], session=1) == [
        "S1-001",
        "S1-002",
        "S1-004",
    ]
    with pytest.raises(BookError, match="there is no session S3"):
        takes(book, session=3)


@pytest.mark.usefixtures("session")
def test_a_circle_is_put_on_and_taken_away(book):
    assert circle(book, "L0001-2", "ANN").circled
    assert [take.circled for take in takes(book)] == [False, True, False, False, False]
    assert not circle(book, "L0001-2", "BEN", on=False).circled

    assert [(note.author, note.what) for note in decisions(book, "L0001-2")] == [
        ("ANN", "circled"),
        ("BEN", "no longer circled"),
    ]


@pytest.mark.usefixtures("session")
def test_a_circle_that_is_there_is_not_put_on_again(book):
    circle(book, "L0001-2", "ANN")
    circle(book, "S1-002", "BEN")

    assert len(decisions(book, "L0001-2")) == 1
    assert decisions(book, "L0001-1") == ()


@pytest.mark.usefixtures("session")
def test_only_a_take_is_circled(book):
    with pytest.raises(BookError, match="S1-003 is chatter, no take: assign it to a line first"):
        circle(book, "S1-003", "ANN")


@pytest.mark.usefixtures("session")
def test_a_stretch_that_is_assigned_has_the_next_number_of_its_line(book):
    take = assign(book, "S1-005", "l0001", "ANN")

    assert (take.kind, take.name, take.wholeness, take.decided_by) == (
        StretchKind.TAKE,
        "L0001-3",
        Wholeness.WHOLE,
        "ANN",
    )
    assert take_named(book, "L0001-3") == take


@pytest.mark.usefixtures("session")
def test_the_number_of_a_take_that_left_its_line_is_nobody_elses(book):
    moved = assign(book, "L0001-2", "L0002", "ANN")
    assert moved.name == "L0002-2"

    assert assign(book, "S1-005", "L0001", "BEN").name == "L0001-3"
    with pytest.raises(BookError, match="L0001-2 is no take of L0001 any more: it is take L0002-2 since ANN"):
        take_named(book, "L0001-2")


@pytest.mark.usefixtures("session")
def test_a_take_that_comes_back_to_its_line_has_its_old_number_again(book):
    assign(book, "L0001-2", "L0002", "ANN")

    assert assign(book, "L0002-2", "L0001", "BEN").name == "L0001-2"
    assert assign(book, "L0001-2", "L0002", "ANN").name == "L0002-2"


@pytest.mark.usefixtures("session")
def test_a_take_may_turn_out_to_be_none(book):
    circle(book, "L0001-1", "ANN")
    put_down = assign(book, "L0001-1", StretchKind.SLATE, "BEN")

    assert (put_down.name, put_down.line, put_down.circled) == ("S1-001", None, False)
    with pytest.raises(BookError, match="it is slate, S1-001 since BEN"):
        take_named(book, "L0001-1")
    assert [(note.author, note.what) for note in decisions(book, "S1-001")] == [("ANN", "circled"), ("BEN", "slate")]


def test_how_much_of_a_line_is_said_is_what_was_guessed_unless_told(tmp_path, book):
    a_session_with_takes(book, tmp_path, [a_take(1, "L0001", "L0002", wholeness=Wholeness.CUT_OFF)])

    assert assign(book, "S1-001", "L0002", "ANN").wholeness is Wholeness.CUT_OFF
    assert assign(book, "S1-001", "L0003", "ANN").wholeness is Wholeness.WHOLE
    assert assign(book, "S1-001", "L0003", "ANN", Wholeness.RESTARTED).wholeness is Wholeness.RESTARTED
    assert [note.what for note in decisions(book, "S1-001")] == [
        "take L0002-1, cut off",
        "take L0003-1, whole",
        "take L0003-1, restarted",
    ]


@pytest.mark.usefixtures("session")
@pytest.mark.parametrize(("name", "to"), [("S1-001", "L0001"), ("S1-003", StretchKind.CHATTER)])
def test_assigning_what_it_is_already_changes_nothing(book, name, to):
    before = take_named(book, name)

    assert assign(book, name, to, "ANN") == before
    assert decisions(book, name) == ()


@pytest.mark.usefixtures("session")
@pytest.mark.parametrize(
    ("to", "told"),
    [("L0099", "there is no line L0099"), (StretchKind.TAKE, "a take is of a line: say of which, as L0107")],
)
def test_a_stretch_is_assigned_to_what_there_is(book, to, told):
    with pytest.raises(BookError, match=told):
        assign(book, "S1-003", to, "ANN")

    assert decisions(book, "S1-003") == ()


def test_a_session_without_stretches_has_no_names(tmp_path, book):
    a_session_with_takes(book, tmp_path, [])

    with pytest.raises(BookError, match="there is no stretch S1-001 in S1: it has none"):
        take_named(book, "S1-001")


def test_twelve_thousand_takes_are_listed_in_a_second(tmp_path, book):
    """A feature's takes: 1,500 lines with eight each."""
    found = [a_take(100 * k, f"L{1 + k % 1500:04}", "L0002") for k in range(12_000)]
    a_draft(book)
    a_session_with_takes(book, tmp_path, found)
    spent = []
    for _ in range(3):
        begun = time.perf_counter()
        listed = takes(book)
        spent.append(time.perf_counter() - begun)

    assert min(spent) < 1
    assert (len(listed), listed[-1].name) == (12_000, "L1500-8")


@pytest.mark.usefixtures("session")
def test_a_number_in_use_is_never_given_again(tmp_path, book):
    given = {take.name for take in takes(book, kind=StretchKind.TAKE)}
    for name in ("L0001-2", "L0002-1"):
        assign(book, name, StretchKind.CHATTER, "ANN")
    a_session_with_takes(book, tmp_path, [a_take(1), a_take(100, "L0002"), a_stretch(200)], content=b"another reel")

    assert {take.name for take in takes(book, session=2, kind=StretchKind.TAKE)} == {"L0001-3", "L0002-2"}
    assert given == {"L0001-1", "L0001-2", "L0002-1"}


def test_a_session_that_is_still_listened_to_has_no_names_yet(tmp_path, book):
    a_session(book, tmp_path)

    with pytest.raises(BookError, match="S1 has not been listened through yet: its takes have no names so far"):
        take_named(book, "S1-001")
