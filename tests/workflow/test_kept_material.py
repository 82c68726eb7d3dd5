"""What is kept of the material of sheets is what would be gathered anew, after whatever was added to the book."""

import random
import shutil
from contextlib import suppress

import pytest

from tests.films import read_by_hand, reading_of
from tests.web.floors import a_floor, add_cut, issue
from trackread.book.book import Book
from trackread.errors import BookError, CorrectionError, CutError, KitError
from trackread.workflow import kept_material
from trackread.workflow.correcting import correct, move, note
from trackread.workflow.decisions import assign, circle
from trackread.workflow.kept_material import KeptMaterial, gathered
from trackread.workflow.placing import place
from trackread.workflow.telling import Telling, tell, tell_done
from trackread.workflow.undoing import undo


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = a_floor(tmp_path_factory.mktemp("film"))
    with Book.open(folder) as book:
        add_cut(book, folder.parent)
        issue(book)
    return folder


@pytest.fixture
def film(made, tmp_path):
    with Book.open(shutil.copytree(made, tmp_path / "tram")) as book:
        yield book


def undone_or_circled(book, n):
    try:
        undo(book, "L0001-1", "ANN")
    except CorrectionError:
        circle(book, ["L0002-1"], "BO", on=bool(n % 3))


# What is added to a book, each for the n-th time.
ADDED = (
    lambda book, n: tell_done(book, "SH010", 1 + n, "ANN"),
    lambda book, n: tell(book, "SH020", Telling(about=f"{n} waits"), "ANN"),
    lambda book, n: correct(book, "L0001-1", move("ticket!", 13 + n % 2), "ANN"),
    lambda book, n: correct(book, "L0002-1", note(3, f"{n} times"), "ANN"),
    undone_or_circled,
    lambda book, n: circle(book, [f"L0001-{1 + n % 2}"], "ANN", on=True),
    lambda book, n: assign(book, "S1-003", "L0002" if n % 2 else "chatter", "ANN", None),
    lambda book, n: read_by_hand(book, "L0003-1", reading_of("L0003-1"), engine=f"later {n}"),
    lambda book, n: issue(book, "SH010", "SH020", unit=str(n)),
)


def is_as_gathered(kept, book):
    """Whether all that is kept is what would be gathered anew."""
    anew = gathered(book, kept.latest, kept.kits)
    assert len(anew.shots) > 1
    return (kept.material, kept.out, kept.shots, kept.heard) == (
        anew.material,
        anew.out,
        anew.shots,
        anew.heard,
    ) and all((kept.brief(shot), kept.rests(shot)) == (anew.brief(shot), anew.rests(shot)) for shot in anew.shots)


@pytest.mark.parametrize("seed", range(4))
def test_whatever_is_added_what_is_kept_is_what_would_be_gathered_anew(film, seed):
    chance, material = random.Random(seed), KeptMaterial(film)
    for n in range(12):
        for add in chance.sample(ADDED, chance.randint(1, 3)):
            with suppress(CorrectionError, BookError):  # some have nothing to change by then, or no take
                add(film, n)
        kept = material.now()

        assert is_as_gathered(kept, film)


def test_only_what_is_new_is_asked_for(film, monkeypatch):
    material = KeptMaterial(film)
    material.now()
    monkeypatch.setattr(kept_material, "gather", None)
    for add in ADDED:
        add(film, 1)

    assert material.now() is material.now()


def test_where_a_line_is_placed_another_take_of_it_is_heard_once_that_is_circled(film):
    place(film, "L0001", "SH020", 1, author="ANN")
    material = KeptMaterial(film)
    before = {one.take.name for one in material.now().brief("SH020").heard}
    circle(film, ["L0001-1"], "ANN", on=True)
    after = material.now()

    assert "L0001-2" in before
    assert {one.take.name for one in after.brief("SH020").heard} == before - {"L0001-2"} | {"L0001-1"}
    assert is_as_gathered(after, film)


def test_another_cut_and_another_kit_are_gathered_anew(film):
    material = KeptMaterial(film)
    first = material.now()
    place(film, "L0003", "SH010", 30, author="ANN")
    second = material.now()
    kit = film.folder / "kits" / "brack.toml"
    kit.write_text(kit.read_text().replace('name = "a crack open"', 'name = "hardly open"'))
    third = material.now()

    assert first.rests("SH010").cut != second.rests("SH010").cut
    assert second.rests("SH010").kits != third.rests("SH010").kits
    kit.write_text("no kit")
    with pytest.raises(KitError, match=r"brack\.toml"):
        material.now()


def test_a_shot_that_is_not_in_the_cut_rests_on_nothing_and_without_shots_there_is_no_material(film, tmp_path):
    assert KeptMaterial(film).now().rests("SH999") is None
    with Book.create(tmp_path / "other", film.production) as empty, pytest.raises(CutError, match="no shots yet"):
        KeptMaterial(empty).now()
