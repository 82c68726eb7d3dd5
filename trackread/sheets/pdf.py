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

from reportlab import rl_config
from reportlab.graphics.barcode.qrencoder import QRCode, QRErrorCorrectLevel
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from trackread.core.drawing import Drawing, Look
from trackread.core.sheet import Sheet
from trackread.errors import SheetError
from trackread.sheets.counts import Count
from trackread.sheets.layout import lay_out
from trackread.sheets.marks import BLACK, Box, Drawn, Face, Hatch, Line, Page, Path, Picture, SquareCode, Text
from trackread.sheets.mouths import Printed, Sight
from trackread.sheets.paper import Paper
from trackread.sheets.pictures import printable, shape_of

FONTS: dict[Face, str] = {
    Face.REGULAR: "DejaVuSans",
    Face.BOLD: "DejaVuSans-Bold",
    Face.CONDENSED: "DejaVuSansCondensed",
    Face.CONDENSED_BOLD: "DejaVuSansCondensed-Bold",
}
# What mouths look like, by character and by name.
Looks = Mapping[str, Mapping[str, Look]]
# The unit of a drawing as a form has it: its numbers have two places.
UNIT = 100
# ISO/IEC 18004 asks for four light modules round the code.
QUIET = 4


def draw_sheet(
    sheet: Sheet,
    paper: Paper,
    *,
    count: Count | None = None,
    board: bytes | None = None,
    looks: Looks | None = None,
    pages: Collection[int] | None = None,
) -> bytes:
    """A sheet as a PDF, or of its pages those with these numbers, from 1.

    `board` is the picture, PNG or JPEG, that the heading has the SHA-256 of; without it no board is printed. `looks`
    are what mouths look like, by character and name. Raises SheetError for a picture that is neither, or a page that
    the sheet does not have, and as `lay_out` does.
    """
    heading = sheet.heading
    if board is not None and sha256(board).hexdigest() != heading.board:
        raise ValueError("the picture is not the sheet's board")
    shape = None if board is None else shape_of(board)
    sights = {character: sights_of(mouths) for character, mouths in (looks or {}).items()}
    laid_out = lay_out(sheet, paper, measure=width_of, count=count, board_shape=shape, sights=sights)
    chosen = laid_out if pages is None else _chosen(laid_out, pages)
    named = " ".join(text for text in (heading.production, heading.scene, heading.shot or heading.take) if text)
    pictures = {} if board is None else {heading.board: board}
    seen = (look for mouths in (looks or {}).values() for look in mouths.values() if isinstance(look, bytes))
    pictures |= {sha256(look).hexdigest(): look for look in seen}
    return draw(chosen, title=named or "Exposure sheet", pictures=pictures)


def sights_of(looks: Mapping[str, Look]) -> dict[str, Sight]:
    """What mouths look like as pages are laid out with them. Raises SheetError for what is no PNG or JPEG."""
    return {
        name: Printed(sha256(look).hexdigest(), shape_of(look)) if isinstance(look, bytes) else look
        for name, look in looks.items()
    }


def draw(pages: Sequence[Page], *, title: str, pictures: Mapping[str, bytes] | None = None) -> bytes:
    """Pages as a PDF with the document title `title`; `pictures` have their SHA-256 for a key.

    Raises SheetError for a picture that is no PNG or JPEG.
    """
    _register_fonts()
    # Base 85 would take a fifth of the time and of the bytes, and no program of today needs it.
    rl_config.useA85 = 0
    target = BytesIO()
    # `invariant` leaves out the date; without `initialFontName` every page would ask for Helvetica.
    canvas = Canvas(target, invariant=1, pageCompression=1, initialFontName=FONTS[Face.REGULAR])
    canvas.setTitle(title)
    canvas.setCreator("trackread")
    embedded, forms = _embedded(pages, pictures or {}), _forms(canvas, pages)
    for page in pages:
        canvas.setPageSize((page.width, page.height))
        _paint(canvas, page, embedded, forms)
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
    printed = {mark.digest for mark in marks}
    largest = {digest: max(max(m.width, m.height) for m in marks if m.digest == digest) for digest in sorted(printed)}
    return {digest: ImageReader(BytesIO(printable(pictures[digest], size))) for digest, size in largest.items()}


def _forms(canvas: Canvas, pages: Sequence[Page]) -> dict[Drawing, str]:
    """Each drawing once, as a form (ISO 32000-1, 8.10) that is painted wherever it stands; their names."""
    drawings = dict.fromkeys(mark.drawing for page in pages for mark in page.marks if isinstance(mark, Drawn))
    names = {drawing: f"drawing-{number}" for number, drawing in enumerate(drawings)}
    for drawing, name in names.items():
        canvas.beginForm(name, -UNIT, -UNIT, 2 * UNIT, 2 * UNIT)
        for shape in drawing.shapes:
            points = tuple((UNIT * x, UNIT * y) for x, y in shape.points)
            canvas.addLiteral(f"1 J 1 j {_strokes(Path(points, UNIT * shape.weight, fill=shape.fill))}")
        canvas.endForm()
    return names


def _paint(canvas: Canvas, page: Page, embedded: Mapping[str, ImageReader], forms: Mapping[Drawing, str]) -> None:
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
            case Drawn():
                scale = _number(mark.side / UNIT)
                canvas.addLiteral(f"q {scale} 0 0 {scale} {mark.x:.2f} {mark.y:.2f} cm")
                canvas.doForm(forms[mark.drawing])
                canvas.addLiteral("Q")
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
    with resources.as_file(resources.files("trackread") / "fonts") as folder:
        for name in FONTS.values():
            pdfmetrics.registerFont(TTFont(name, folder / f"{name}.ttf"))


def _write(canvas: Canvas, page: Page) -> None:
    """All texts of a page in one text object, which is several times quicker than one each."""
    writer = canvas.beginText()
    font: tuple[Face, float] | None = None
    stretch, tone = 1.0, BLACK
    for mark in page.marks:
        if not isinstance(mark, Text):
            continue
        if font != (mark.face, mark.size):
            font = (mark.face, mark.size)
            writer.setFont(FONTS[mark.face], mark.size)
        if stretch != mark.stretch:
            stretch = mark.stretch
            writer.setHorizScale(100 * stretch)
        if tone != mark.tone:
            tone = mark.tone
            writer.setFillGray(tone)
        if mark.turned:
            writer.setTextTransform(0, -1, 1, 0, mark.x, page.height - mark.baseline)
        else:
            writer.setTextOrigin(mark.x, page.height - mark.baseline)
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
