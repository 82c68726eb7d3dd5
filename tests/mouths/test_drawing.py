"""Mouths drawn: what an animator must be able to tell, measured on the drawing itself and on a small grey picture.

The pictures are made by Pillow at the size and fineness of a 12 mm print on an office copier.
"""

from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageDraw, ImageStat

from trackread.core.mouth import Face
from trackread.mouths.drawing import INSIDE, LIP, TONGUE, WHITE, drawing_of, svg_of
from trackread.mouths.kit_file import read_kit

KITS = Path(__file__).resolve().parents[2] / "fixtures" / "late-tram" / "kits"
PUPPETS = ("brack", "miss-pell", "tum")
SMALL = 71  # 12 mm at 150 dots to the inch
SVG = "{http://www.w3.org/2000/svg}"

parts = st.floats(0, 1)
faces = st.builds(Face, parts, parts, parts, parts, parts)


def printed(face):
    """The drawing of a face in grey, as small as it is printed."""
    size = 8 * SMALL
    picture = Image.new("L", (size, size), 255)
    pen = ImageDraw.Draw(picture)
    for shape in drawing_of(face).shapes:
        points = [(size * x, size * y) for x, y in shape.points]
        if shape.fill is not None:
            pen.polygon(points, fill=int(255 * shape.fill))
            points.append(points[0])
        pen.line(points, fill=0, width=round(size * shape.weight), joint="curve")
    return picture.resize((SMALL, SMALL), Image.Resampling.BOX)


def filled(face, tone):
    return [shape for shape in drawing_of(face).shapes if shape.fill == tone]


def size_of(shape):
    xs, ys = zip(*shape.points, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


@given(faces)
def test_a_drawing_stays_in_its_square(face):
    for shape in drawing_of(face).shapes:
        edge = shape.weight / 2
        assert all(edge <= x <= 1 - edge and edge <= y <= 1 - edge for x, y in shape.points)


@given(faces)
def test_a_face_is_drawn_alike_on_both_sides(face):
    for shape in drawing_of(face).shapes:
        if shape.fill is not None:
            xs = sorted(x for x, _ in shape.points)
            assert xs == pytest.approx(sorted(1 - x for x in xs))


@given(faces, parts)
def test_the_more_it_opens_the_more_of_the_inside_is_seen(face, opening):
    low, high = sorted((face.opening, opening))
    heights = [
        size_of(filled(Face(part, face.width, face.rounding, face.bite, face.tongue), INSIDE)[0])[1]
        for part in (low, high)
    ]

    assert heights[0] <= heights[1] + 1e-9


@given(parts, parts, parts)
def test_the_wider_it_is_the_further_its_corners_are_apart(opening, one, other):
    narrow, wide = (size_of(filled(Face(opening, width), LIP)[0])[0] for width in sorted((one, other)))

    assert narrow <= wide + 1e-9


def test_closed_lips_show_neither_teeth_nor_tongue():
    assert not filled(Face(), WHITE)
    assert not filled(Face(), TONGUE)
    assert size_of(filled(Face(), INSIDE)[0])[1] == 0


def test_teeth_lie_over_the_lower_lip_when_they_bite():
    (teeth,) = filled(Face(opening=0.05, bite=1), WHITE)
    (inside,) = filled(Face(opening=0.05, bite=1), INSIDE)

    assert max(y for _, y in teeth.points) > max(y for _, y in inside.points) + 0.03


def test_a_tongue_is_drawn_only_where_one_is_seen():
    assert filled(Face(0.3, tongue=0.8), TONGUE)
    assert not filled(Face(0.3), TONGUE)


@pytest.mark.parametrize("puppet", PUPPETS)
def test_mouths_of_a_kit_are_told_apart_in_grey_at_twelve_millimetres(puppet):
    mouths = read_kit((KITS / f"{puppet}.toml").read_text(encoding="utf-8"), puppet).mouths
    pictures = {mouth.name: printed(mouth.face) for mouth in mouths}
    unlike = {
        pair: ImageStat.Stat(ImageChops.difference(*map(pictures.get, pair))).sum[0] / 255
        for pair in combinations(pictures, 2)
    }

    # 150 dots of 71 x 71 from white to black are a patch 2 mm square; our own measure, no source.
    assert len(mouths) >= 6
    assert min(unlike.values()) > 150, min(unlike, key=unlike.get)


@given(faces)
def test_the_picture_is_xml_with_every_shape_in_its_tone(face):
    shapes = drawing_of(face).shapes
    root = ElementTree.fromstring(svg_of(drawing_of(face)))

    assert (root.tag, root.get("viewBox")) == (f"{SVG}svg", "0 0 1 1")
    assert [one.tag == f"{SVG}polygon" for one in root] == [shape.fill is not None for shape in shapes]
    assert [len(one.get("points").split()) for one in root] == [len(shape.points) for shape in shapes]


def test_tones_run_from_black_to_white():
    picture = svg_of(drawing_of(Face(0.5, tongue=0.5)))

    assert 'fill="#ffffff"' in picture
    assert 'stroke="#000000"' in picture
