"""Pictures that people bring as SVG, made pictures of pixels: the same on every machine.

Texts in them are set in the typeface of the sheets, since no two machines have the same others.
"""

from importlib import resources
from xml.etree import ElementTree

from trackread.errors import SheetError

# What these elements show lies somewhere else; SVG 1.1 and SVG 2 each have a name for where.
LINKING = ("image", "feImage", "use")
LINKS = ("href", "{http://www.w3.org/1999/xlink}href")
INSIDE = ("#", "data:")
TYPEFACE = "DejaVu Sans"


def is_svg(picture: bytes) -> bool:
    """Whether a picture may be SVG: its first letter begins an element, which no picture of pixels does."""
    return picture.removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"<")


def rendered(picture: bytes, most: int) -> bytes:
    """An SVG as PNG on white, its longer side `most` pixels. Raises SheetError if it cannot be drawn as it is."""
    # Only who brings an SVG waits for it.
    from resvg_py import svg_to_bytes

    try:
        text = picture.decode("utf-8-sig")
        if links := links_of(text):
            raise SheetError(f"the picture shows another file, {links[0]!r}: put that picture into it")
        with resources.as_file(resources.files("trackread") / "fonts") as fonts:
            # Both sides are given: with one alone a picture that is slim enough takes all memory there is.
            return svg_to_bytes(
                svg_string=text,
                width=most,
                height=most,
                background="#ffffff",
                skip_system_fonts=True,
                font_dirs=[str(fonts)],
                font_family=TYPEFACE,
                serif_family=TYPEFACE,
                sans_serif_family=TYPEFACE,
                monospace_family=TYPEFACE,
                cursive_family=TYPEFACE,
                fantasy_family=TYPEFACE,
            )
    except UnicodeDecodeError as error:
        raise SheetError("the picture is an SVG that is not UTF-8 text: save it as UTF-8") from error
    except (ElementTree.ParseError, ValueError) as error:
        raise SheetError(f"the picture cannot be drawn ({error}): give a whole SVG") from error


def links_of(text: str) -> list[str]:
    """What an SVG shows that is not in it. Raises ElementTree.ParseError if it is no XML."""
    shown = (one for one in ElementTree.fromstring(text).iter() if str(one.tag).rpartition("}")[2] in LINKING)
    links = (one.get(name, "") for one in shown for name in LINKS)
    return [link for link in links if link and not link.strip().startswith(INSIDE)]
