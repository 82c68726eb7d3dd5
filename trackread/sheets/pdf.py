"""Pages of marks as PDF, the same bytes for the same pages.

The only module of the room that knows the drawing library. PDF counts y upwards from the foot of the page.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from functools import cache, lru_cache
from hashlib import sha256
from importlib import resources
from io import BytesIO
from itertools import groupby
from typing import assert_never

from reportlab.graphics.barcode.qrencoder import QRCode, QRErrorCorrectLevel
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from trackread.core.sheet import Sheet
from trackread.errors import SheetError
from trackread.sheets.counts import Count
from trackread.sheets.layout import lay_out
from trackread.sheets.marks import Box, Face, Hatch, Line, Page, Path, Picture, SquareCode, Text
from trackread.sheets.paper import Paper
from trackread.sheets.pictures import printable, shape_of

FONTS: dict[Face, str] = {
    Face.REGULAR: "DejaVuSans",
    Face.BOLD: "DejaVuSans-Bold",
    Face.CONDENSED: "DejaVuSansCondensed",
    Face.CONDENSED_BOLD: "DejaVuSansCondensed-Bold",
}
# ISO/IEC 18004 asks for four light modules round the code.
QUIET = 4


def draw_sheet(
    sheet: Sheet,
    paper: Paper,
    *,
    count: Count | None = None,
    board: bytes | None = None,
    pages: Collection[int] | None = None,
) -> bytes:
    """A sheet as a PDF, or of its pages those with these numbers, from 1.

    `board` is the picture, PNG or JPEG, that the heading has the SHA-256 of; without it no board is printed. Raises
    SheetError for a picture that is neither, or a page that the sheet does not have, and as `lay_out` does.
    """
    heading = sheet.heading
    if board is not None and sha256(board).hexdigest() != heading.board:
        raise ValueError("the picture is not the sheet's board")
    shape = None if board is None else shape_of(board)
    laid_out = lay_out(sheet, paper, measure=width_of, count=count, board_shape=shape)
    chosen = laid_out if pages is None else _chosen(laid_out, pages)
    named = " ".join(text for text in (heading.production, heading.scene, heading.shot or heading.take) if text)
    return draw(chosen, title=named or "Exposure sheet", pictures={} if board is None else {heading.board: board})


def draw(pages: Sequence[Page], *, title: str, pictures: Mapping[str, bytes] | None = None) -> bytes:
    """Pages as a PDF with the document title `title`; `pictures` have their SHA-256 for a key.

    Raises SheetError for a picture that is no PNG or JPEG.
    """
    _register_fonts()
    target = BytesIO()
    # `invariant` leaves out the date; without `initialFontName` every page would ask for Helvetica.
    canvas = Canvas(target, invariant=1, pageCompression=1, initialFontName=FONTS[Face.REGULAR])
    canvas.setTitle(title)
    canvas.setCreator("trackread")
    embedded = _embedded(pages, pictures or {})
    for page in pages:
        canvas.setPageSize((page.width, page.height))
        _paint(canvas, page, embedded)
        _write(canvas, page)
        canvas.showPage()
    canvas.save()
    return target.getvalue()


def _chosen(pages: tuple[Page, ...], numbers: Collection[int]) -> tuple[Page, ...]:
    missing = sorted(set(numbers) - set(range(1, len(pages) + 1)))
    if missing or not numbers:
        named = f"no page {missing[0]}" if missing else "nothing to print of it without a page"
        raise SheetError(f"there is {named}: this sheet has pages 1 to {len(pages)}")
    return tuple(page for number, page in enumerate(pages, 1) if number in numbers)


def _embedded(pages: Sequence[Page], pictures: Mapping[str, bytes]) -> dict[str, ImageReader]:
    """Each picture once, as fine as it is printed largest."""
    marks = [mark for page in pages for mark in page.marks if isinstance(mark, Picture)]
    largest = {digest: max(max(m.width, m.height) for m in marks if m.digest == digest) for digest in pictures if marks}
    return {digest: ImageReader(BytesIO(printable(pictures[digest], size))) for digest, size in largest.items()}


def _paint(canvas: Canvas, page: Page, embedded: Mapping[str, ImageReader]) -> None:
    """All of a page but its texts."""
    # One flip of the page serves all marks but texts and pictures, which would stand on their heads.
    flip = f"q 1 0 0 -1 0 {_number(page.height)} cm"
    canvas.addLiteral(flip)
    for mark in page.marks:
        match mark:
            case Text():
                continue
            case Picture():
                canvas.addLiteral("Q")
                place = (mark.x, page.height - mark.y - mark.height)
                canvas.drawImage(embedded[mark.digest], *place, width=mark.width, height=mark.height)
                canvas.addLiteral(flip)
            case _:
                canvas.addLiteral(_strokes(mark))
    canvas.addLiteral("Q")


@lru_cache(maxsize=4096)
def width_of(text: str, face: Face) -> float:
    """The width of a text as a multiple of its size: the `Measure` of the typeface that is embedded."""
    _register_fonts()
    return float(pdfmetrics.stringWidth(text, FONTS[face], 1.0))


@cache
def _register_fonts() -> None:
    with resources.as_file(resources.files("trackread.sheets") / "fonts") as folder:
        for name in FONTS.values():
            pdfmetrics.registerFont(TTFont(name, folder / f"{name}.ttf"))


def _write(canvas: Canvas, page: Page) -> None:
    """All texts of a page in one text object, which is several times quicker than one each."""
    writer = canvas.beginText()
    state: tuple[object, ...] = ()
    for mark in page.marks:
        if not isinstance(mark, Text):
            continue
        if state != (mark.face, mark.size, mark.stretch, mark.tone):
            state = (mark.face, mark.size, mark.stretch, mark.tone)
            writer.setFont(FONTS[mark.face], mark.size)
            writer.setHorizScale(100 * mark.stretch)
            writer.setFillGray(mark.tone)
        along = (0, -1, 1, 0) if mark.turned else (1, 0, 0, 1)
        writer.setTextTransform(*along, mark.x, page.height - mark.baseline)
        writer.textOut(mark.text)
    canvas.drawText(writer)


def _strokes(mark: Line | Box | Hatch | Path | SquareCode) -> str:
    match mark:
        case Line():
            ends = ((mark.x1, mark.y1), (mark.x2, mark.y2))
            return f"{_pen(mark.weight, mark.tone, mark.dash)} {_trace(ends)} S"
        case Box():
            return f"{_number(mark.tone)} g {_rectangle(mark.x, mark.y, mark.width, mark.height)} f"
        case Hatch():
            return _hatch(mark)
        case Path():
            fill, paint = ("", "S") if mark.fill is None else (f"{_number(mark.fill)} g", "b")
            return f"{_pen(mark.weight, mark.tone, mark.dash)} {fill} {_trace(mark.points)} {paint}"
        case SquareCode():
            return "0 g " + " ".join(_rectangle(*module) for module in _modules(mark)) + " f"
        case _:
            assert_never(mark)


def _pen(weight: float, tone: float, dash: tuple[float, ...]) -> str:
    return f"{_number(weight)} w {_number(tone)} G [{' '.join(map(_number, dash))}] 0 d"


def _trace(points: Iterable[tuple[float, float]]) -> str:
    steps = " l ".join(f"{x:.2f} {y:.2f}" for x, y in points)
    return steps.replace(" l", " m", 1) + " l"


def _rectangle(x: float, y: float, width: float, height: float) -> str:
    return f"{x:.3f} {y:.3f} {width:.3f} {height:.3f} re"


def _hatch(mark: Hatch) -> str:
    box = _rectangle(mark.x, mark.y, mark.width, mark.height)
    count = int((mark.height + mark.width) / mark.spacing) + 1
    starts = (mark.y + mark.spacing * number for number in range(count))
    slants = " ".join(_trace(((mark.x, y), (mark.x + mark.width, y - mark.width))) for y in starts)
    return f"q {_pen(mark.weight, 0.0, ())} {box} S {box} W n {slants} S Q"


def _modules(mark: SquareCode) -> Iterator[tuple[float, float, float, float]]:
    """The dark modules of a code, those beside each other in one rectangle so that no seam shows."""
    rows = _square(mark.text)
    step = mark.size / (len(rows) + 2 * QUIET)
    for down, row in enumerate(rows):
        across = QUIET
        for dark, modules in groupby(row):
            count = len(list(modules))
            if dark:
                yield mark.x + across * step, mark.y + (down + QUIET) * step, count * step, step
            across += count


@lru_cache(maxsize=64)
def _square(text: str) -> tuple[tuple[bool, ...], ...]:
    code = QRCode(None, QRErrorCorrectLevel.M)
    code.addData(text)
    code.make()
    return tuple(tuple(bool(module) for module in row) for row in code.modules)


def _number(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".")
