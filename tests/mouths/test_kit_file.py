"""A kit as TOML there and back, and everything that can be wrong in it."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trackread.core.mouth import SYMBOLS, Face, Kit, Mouth
from trackread.errors import KitError
from trackread.mouths.kit_file import bare_text, kit_text, read_kit
from trackread.mouths.ready_made import jaw_kit

KITS = Path(__file__).resolve().parents[2] / "fixtures" / "late-tram" / "kits"
PUPPETS = ("brack", "miss-pell", "tum")

TWO = """\
character = "TUM"
rest = "shut"

[[mouths]]
name = "shut"

[[mouths]]
name = "open"
opening = 0.5
"""

names = st.text(min_size=1).map(lambda text: " ".join(text.split())).filter(bool)
parts = st.floats(0, 1)


@st.composite
def kits(draw):
    said = draw(st.lists(names, unique_by=str.casefold, min_size=1, max_size=6))
    mouths = tuple(
        Mouth(
            name,
            Face(*(draw(parts) for _ in range(5))),
            draw(st.integers(1, 10**6)),
            draw(st.frozensets(st.sampled_from(sorted(SYMBOLS)))),
            draw(st.text()),
        )
        for name in said
    )
    return Kit("a kit", draw(names), mouths, draw(st.sampled_from(said)))


def problems(text):
    with pytest.raises(KitError) as caught:
        read_kit(text, "tum.toml")
    return str(caught.value).splitlines()


@given(kits())
def test_what_is_written_is_read_back(kit):
    assert read_kit(kit_text(kit), kit.name) == kit


@given(kits())
def test_a_problem_has_the_line_it_is_written_on(kit):
    """Whatever is said in the texts before it."""
    before = kit_text(kit)

    told = problems(f"{before}[[mouths]]\ncopies = 2\nbite = 2\nname = 3\n")

    line, number = before.count("\n"), len(kit.mouths) + 1
    assert told == [
        f"tum.toml:{line + 3}: mouths[{number}].bite: must be a number from 0 to 1, not 2",
        f"tum.toml:{line + 4}: mouths[{number}].name: must be text in quotes, not 3",
    ]


@pytest.mark.parametrize("puppet", PUPPETS)
def test_the_kits_of_the_demo_are_read_and_written_back(puppet):
    kit = read_kit((KITS / f"{puppet}.toml").read_text(encoding="utf-8"), puppet)

    assert kit.character.replace(" ", "-").lower() == puppet
    assert read_kit(kit_text(kit), puppet) == kit


def test_the_demo_has_a_kit_for_each_of_its_puppets():
    assert sorted(path.name for path in KITS.iterdir()) == [f"{puppet}.toml" for puppet in PUPPETS]


def test_what_is_left_out_has_the_default_of_a_mouth():
    assert read_kit(TWO, "tum").mouths == (Mouth("shut", Face()), Mouth("open", Face(opening=0.5)))


def test_phones_are_a_row_or_a_list_in_large_or_small_letters():
    row, listed = (read_kit(f"{TWO}phones = {phones}", "tum") for phones in ('"AA ay"', '["AA",\n "ay"]'))

    assert row == listed
    assert row.mouth("open").phones == {"AA", "AY"}


def test_names_are_one_row_of_words():
    kit = read_kit(TWO.replace('"open"', '"wide \\t open"').replace('rest = "shut"', 'rest = " wide open"'), "tum")

    assert (kit.mouths[1].name, kit.rest) == ("wide open", "wide open")


def test_every_problem_is_told_at_once_in_the_order_of_lines():
    text = (
        'character = " "\nrest = 3\ncolour = "grey"\n\n[[mouths]]\nname = "shut"\nopening = "0"\nwidth = true\n'
        'copies = 0\n\n[[mouths]]\nbite = 1.5\ntongue = nan\nphones = [\n  "P",\n  "AH0",\n]\npicture = 7\n\n'
        '[[mouths]]\nname = "Shut"\nteeth = 2\ncopies = true\nphones = 4\n\n[mouths.jaw]\nup = 1\n'
    )

    told = problems(text)

    assert [line.removeprefix("tum.toml:").partition(": use")[0] for line in told] == [
        "1: character: must not be empty",
        "2: rest: must be text in quotes, not 3",
        "3: colour: is no key of a kit",
        '7: mouths[1].opening: must be a number from 0 to 1, not "0"',
        "8: mouths[1].width: must be a number from 0 to 1, not true",
        "9: mouths[1].copies: must be a whole number, 1 or more, not 0",
        '11: mouths[2].name: is missing: write what people call this mouth, as name = "lips shut"',
        "12: mouths[2].bite: must be a number from 0 to 1, not 1.5",
        "13: mouths[2].tongue: must be a number from 0 to 1, not NaN",
        "14: mouths[2].phones: no sounds are 'AH0'",
        "18: mouths[2].picture: must be text in quotes, not 7",
        "21: mouths[3].name: 'Shut' is mouths[1].name already: say each mouth with its own name",
        "22: mouths[3].teeth: is no key of a mouth",
        "23: mouths[3].copies: must be a whole number, 1 or more, not true",
        '24: mouths[3].phones: must be sounds as "P B M" or ["P", "B", "M"], not 4',
        "26: mouths[3].jaw: is no key of a mouth",
    ]


def test_an_empty_file_is_told_what_a_kit_needs():
    assert problems("") == [
        'tum.toml: character: is missing: say whose mouths these are, as character = "BRACK"',
        'tum.toml: rest: is missing: say which mouth is worn at rest, as rest = "lips shut"',
        "tum.toml: mouths: is missing: write a [[mouths]] for each mouth, or jaw = 5 for a jaw that only opens, "
        "in so many steps",
    ]


def test_a_mouth_at_rest_is_one_of_the_kit():
    assert problems(TWO.replace('rest = "shut"', 'rest = "ajar"')) == [
        "tum.toml:2: rest: 'ajar' is no mouth of this kit: use one of shut, open"
    ]


@pytest.mark.parametrize("mouths", ["[]", "[1]", '"shut"'])
def test_a_kit_has_mouths(mouths):
    assert problems(f'character = "TUM"\nrest = "shut"\nmouths = {mouths}') == [
        f"tum.toml:3: mouths: must be written as [[mouths]], once for each mouth, not {mouths}",
    ]


def test_mouths_in_one_row_have_its_line():
    text = 'character = "TUM"\nrest = "shut"\n\nmouths = [{name = "shut"},\n  {name = "open", bite = 2}]\n'

    assert problems(text) == ["tum.toml:4: mouths[2].bite: must be a number from 0 to 1, not 2"]


def test_what_looks_like_a_mouth_inside_a_text_is_none():
    text = TWO.replace("opening = 0.5", 'picture = """\n[[mouths]]\nname = "x"\n"""\nopening = 5')

    assert problems(text) == ["tum.toml:13: mouths[2].opening: must be a number from 0 to 1, not 5"]


def test_lines_are_counted_in_files_of_any_system():
    assert problems(TWO.replace("0.5", "5").replace("\n", "\r\n"))[0].startswith("tum.toml:9: mouths[2].opening: ")


@pytest.mark.parametrize(
    ("text", "start"),
    [(f"{TWO}[[mouths\n", "tum.toml:10: Expected ']]'"), (f'{TWO}name = """', "tum.toml")],
)
def test_what_is_no_toml_is_told_with_its_line_where_there_is_one(text, start):
    (told,) = problems(text)

    assert told.startswith(start)


def test_the_written_text_says_what_each_number_means():
    text = kit_text(read_kit(TWO, "tum"))

    assert all(f"#   {part} " in text for part in ("opening", "width", "rounding", "bite", "tongue"))


@given(names, st.integers(2, 20))
def test_a_jaw_is_read_back_with_all_its_steps(character, steps):
    kit = jaw_kit("a kit", character, steps)

    assert read_kit(kit_text(kit), kit.name) == kit
    assert "[[mouths]]" not in kit_text(kit)


def test_a_jaw_opens_evenly_from_shut_to_wide():
    kit = read_kit('character = "TUM"\njaw = 5\n', "tum")

    assert [(mouth.name, mouth.face) for mouth in kit.mouths] == [
        ("jaw shut", Face()),
        ("jaw open 1 of 4", Face(opening=0.25)),
        ("jaw open 2 of 4", Face(opening=0.5)),
        ("jaw open 3 of 4", Face(opening=0.75)),
        ("jaw wide", Face(opening=1)),
    ]
    assert (kit.rest, kit.jaw) == ("jaw shut", 5)


@pytest.mark.parametrize("steps", ["1", "21", "0", "true", "2.0", '"5"'])
def test_a_jaw_has_steps_that_are_told_apart(steps):
    assert problems(f'character = "TUM"\njaw = {steps}') == [
        f"tum.toml:2: jaw: must be a whole number from 2 to 20, not {steps}"
    ]


def test_a_jaw_has_nothing_beside_it():
    told = problems(TWO.replace('rest = "shut"', 'jaw = 50\nrest = "shut"'))

    assert told == [
        "tum.toml:2: jaw: must be a whole number from 2 to 20, not 50",
        "tum.toml:3: rest: is of no use to a jaw that only opens: leave it out, or else leave out jaw",
        "tum.toml:5: mouths: is of no use to a jaw that only opens: leave it out, or else leave out jaw",
    ]


def no_picture(name):
    raise KitError(f"{name!r} is no picture")


def test_each_picture_is_checked_and_told_with_its_line():
    text = TWO + 'picture = "open.png"\n\n[[mouths]]\nname = "round"\npicture = "round.png"\n[[mouths]]\nname = 4\n'
    with pytest.raises(KitError) as caught:
        read_kit(text, "tum", file="kits/tum.toml", check_picture=no_picture)

    assert str(caught.value).splitlines() == [
        "kits/tum.toml:10: mouths[2].picture: 'open.png' is no picture",
        "kits/tum.toml:14: mouths[3].picture: 'round.png' is no picture",
        "kits/tum.toml:16: mouths[4].name: must be text in quotes, not 4",
    ]


def test_a_mouth_without_a_picture_has_none_to_check():
    assert read_kit(f'{TWO}picture = ""\n', "tum", check_picture=no_picture).mouths[1].picture == ""


@given(kits())
def test_remarks_are_no_part_of_what_a_kit_says(kit):
    assert read_kit(bare_text(kit), kit.name) == kit
    assert "#" not in bare_text(read_kit(f"# a remark\n{TWO}", "tum"))
