"""The kits of a production, and the pictures that their mouths name."""

from io import BytesIO

import pytest
from PIL import Image

from tests.book.makers import a_production
from trackread.book.settings import write_settings
from trackread.core.drawing import Drawing
from trackread.errors import KitError
from trackread.mouths.drawing import drawing_of, svg_of
from trackread.workflow.kits import PIXELS, kits_in, looks_of

KIT = """\
character = "TUM"
rest = "shut"

[[mouths]]
name = "shut"

[[mouths]]
name = "half"
opening = 0.45

[[mouths]]
name = "wide"
opening = 0.9
"""
# Its left half is black.
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 2 1"><rect width="1" height="1"/>{}</svg>'


@pytest.fixture
def folder(tmp_path):
    folder = tmp_path / "tram"
    (folder / "kits").mkdir(parents=True)
    write_settings(folder, a_production())
    return folder


def written(folder, text=KIT, name="tum.toml"):
    (folder / "kits" / name).write_text(text, encoding="utf-8")
    return folder


def with_picture(folder, content, name="wide.png"):
    """A kit whose last mouth has a picture with this content."""
    if content is not None:
        (folder / "kits" / name).write_bytes(content)
    return written(folder, f'{KIT}picture = "{name}"\n')


def png(size=(8, 6), mode="RGB", colour="red", kind="PNG"):
    target = BytesIO()
    Image.new(mode, size, colour).save(target, kind)
    return target.getvalue()


def seen(folder):
    """The picture of the last mouth as it is looked at."""
    (one,) = kits_in(folder)
    picture = Image.open(BytesIO(looks_of(one)["wide"]))
    picture.load()
    return picture


def problems(folder):
    with pytest.raises(KitError) as caught:
        kits_in(folder)
    return [line.removeprefix(f"{folder / 'kits'}/") for line in str(caught.value).splitlines()]


def test_a_production_may_have_no_kits(tmp_path):
    assert kits_in(tmp_path) == ()


def test_kits_come_in_the_order_of_their_names_and_hidden_files_are_none(folder):
    for name in ("tum.toml", "brack.toml", ".brack.toml", "notes.txt"):
        written(folder, KIT if name.endswith("k.toml") or name == "tum.toml" else "not a kit", name)

    assert [one.kit.name for one in kits_in(folder)] == ["brack", "tum"]


def test_a_mouth_without_a_picture_looks_like_its_face(folder):
    (one,) = kits_in(written(folder))

    assert list(looks_of(one)) == ["shut", "half", "wide"]
    assert looks_of(one) == {mouth.name: drawing_of(mouth.face) for mouth in one.kit.mouths}


def test_a_mouth_with_a_picture_looks_like_that(folder):
    picture = seen(with_picture(folder, png()))
    (one,) = kits_in(folder)

    assert (picture.format, picture.size, picture.getpixel((3, 3))) == ("PNG", (8, 6), (255, 0, 0))
    assert isinstance(looks_of(one)["half"], Drawing)


def test_what_is_clear_in_a_picture_is_white(folder):
    assert seen(with_picture(folder, png(mode="RGBA", colour=(255, 0, 0, 0)))).getpixel((0, 0)) == (255, 255, 255)


@pytest.mark.parametrize("size", [(2000, 1000), (1000, 2000), (PIXELS + 1, 40)])
def test_a_large_picture_is_made_small_and_keeps_its_shape(folder, size):
    small = seen(with_picture(folder, png(size))).size

    assert max(small) == PIXELS
    assert small[0] / small[1] == pytest.approx(size[0] / size[1], rel=0.02)


def test_a_photograph_will_do_too(folder):
    assert seen(with_picture(folder, png(kind="JPEG"), "wide.jpg")).format == "PNG"


def test_an_svg_is_drawn(folder):
    picture = seen(with_picture(folder, SVG.format("").encode(), "wide.svg"))

    assert picture.size == (PIXELS, PIXELS // 2)
    assert [picture.getpixel((x, 100)) for x in (100, 400)] == [(0, 0, 0), (255, 255, 255)]


def test_our_own_drawings_are_svgs_that_can_be_brought(folder):
    one = kits_in(written(folder))[0].kit
    picture = seen(with_picture(folder, svg_of(drawing_of(one.mouths[2].face)).encode(), "wide.svg")).convert("L")

    assert picture.getextrema() == (0, 255)


def test_texts_in_an_svg_are_drawn_on_every_machine(folder):
    text = '<text x="1.1" y="0.8" font-size="0.8" font-family="No Such Typeface">M</text>'
    picture = seen(with_picture(folder, SVG.format(text).encode(), "wide.svg"))

    right = picture.crop((PIXELS // 2 + 4, 0, PIXELS, PIXELS // 2)).convert("L")
    assert right.getextrema() == (0, 255)


def test_two_mouths_may_have_one_picture(folder):
    with_picture(folder, png())
    text = KIT.replace("opening = 0.45", 'opening = 0.45\npicture = "wide.png"')
    (one,) = kits_in(written(folder, f'{text}picture = "wide.png"\n'))

    assert looks_of(one)["half"] == looks_of(one)["wide"]


def test_a_picture_may_lie_in_a_folder_beside_the_kit(folder):
    (folder / "kits" / "pictures").mkdir()
    (folder / "kits" / "pictures" / "wide.png").write_bytes(png())
    (one,) = kits_in(written(folder, f'{KIT}picture = "pictures/wide.png"\n'))

    assert isinstance(looks_of(one)["wide"], bytes)


@pytest.mark.parametrize("name", ["../wide.png", "../../wide.png", "{above}/wide.png", "linked.png"])
def test_a_picture_outside_of_the_kits_is_refused(folder, name):
    """Not by a link either: a backup of the production would be without it."""
    (folder.parent / "wide.png").write_bytes(png())
    (folder / "kits" / "linked.png").symlink_to(folder.parent / "wide.png")
    (told,) = problems(written(folder, f'{KIT}picture = "{name.format(above=folder.parent)}"\n'))

    assert told.startswith("tum.toml:14: mouths[3].picture: ")
    assert told.endswith("leads out of the folder of the kit: put the picture beside the kit")


PNG = png((40, 40))


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (None, "there is no file 'wide.png' beside the kit"),
        (b"", "the picture cannot be read"),
        (b"no picture", "the picture cannot be read"),
        (PNG[: len(PNG) // 2], "the picture cannot be read"),
        (png(kind="GIF"), "the picture cannot be read"),
        (b"<svg", "the picture cannot be drawn"),
        (b"<html></html>", "the picture cannot be drawn"),
        (SVG.format("<g>").encode(), "the picture cannot be drawn"),
        (b'<svg xmlns="http://www.w3.org/2000/svg" width="0" height="0"/>', "the picture cannot be drawn"),
        (SVG.format("\xe9").encode("latin-1"), "the picture is an SVG that is not UTF-8 text"),
        (SVG.format('<image href="/etc/hostname"/>').encode(), "shows another file, '/etc/hostname'"),
        (SVG.format('<use href="other.svg#m"/>').encode(), "shows another file, 'other.svg#m'"),
    ],
)
def test_a_picture_that_is_none_is_told_with_its_mouth_and_line(folder, content, told):
    (problem,) = problems(with_picture(folder, content))

    assert problem.startswith("tum.toml:14: mouths[3].picture: ")
    assert "'wide.png'" in problem
    assert told in problem


@pytest.mark.parametrize(("width", "height"), [(1, 1_000_000), (1_000_000, 1), ("1e9", "1e9")])
def test_no_svg_takes_all_memory(folder, width, height):
    """Drawn by its width alone, the first would be 512 million pixels high."""
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}"><rect width="1" height="1"/></svg>'
    )

    assert max(seen(with_picture(folder, svg.encode())).size) == PIXELS


@pytest.mark.parametrize("name", ["a\\u0000b.png", "x" * 300, "."])
def test_a_name_that_no_file_has_is_no_picture(folder, name):
    (problem,) = problems(written(folder, f'{KIT}picture = "{name}"\n'))

    assert problem.startswith("tum.toml:14: mouths[3].picture: ")


def test_all_problems_of_all_kits_are_told_at_once(folder):
    with_picture(folder, None)
    written(folder, KIT.replace("0.9", "9").replace('"TUM"', "3"), "brack.toml")
    written(folder, KIT.replace("opening = 0.9", ""), "pell.toml")
    (folder / "kits" / "ruined.toml").write_bytes(b"\n\xff")

    told = problems(folder)

    assert [one.partition(" ")[0] for one in told] == [
        "brack.toml:1:",
        "brack.toml:13:",
        "pell:",
        "ruined.toml:2:",
        "tum.toml:14:",
    ]


class TestDigest:
    def test_it_changes_with_what_the_kit_says_and_with_its_pictures(self, folder):
        digests = {
            kits_in(made)[0].digest
            for make in (
                lambda: written(folder),
                lambda: written(folder, KIT.replace("0.9", "0.8")),
                lambda: with_picture(folder, png()),
                lambda: with_picture(folder, png(colour="blue")),
                lambda: with_picture(folder, png(), "other.png"),
            )
            for made in [make()]
        }

        assert len(digests) == 5

    def test_a_remark_changes_nothing(self, folder):
        before = kits_in(written(folder))[0].digest

        assert kits_in(written(folder, f"# Painted on Monday.\r\n{KIT}"))[0].digest == before
