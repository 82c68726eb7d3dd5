"""A sheet on paper: pages of marks, a row to a frame, nothing drawn yet.

Pure: what is needed of the typeface comes in as a `Measure`. Everything is worked out in points. What is
read while animating is of the paper's type size; the head, headings and foot are multiples of HEAD_SIZE.
"""

from collections.abc import Iterator

from trackread.core.sheet import Sheet
from trackread.errors import SheetError
from trackread.sheets.body import body
from trackread.sheets.columns import Need, Plan, groups, plan_for
from trackread.sheets.counts import Count
from trackread.sheets.draft import Draft, draft_of
from trackread.sheets.field import Field
from trackread.sheets.fitting import Measure
from trackread.sheets.grid import COUNT_SIZE
from trackread.sheets.header import Frame, head
from trackread.sheets.headings import headings, names_height
from trackread.sheets.key import foot, height_of, key_of
from trackread.sheets.marks import Face, Mark, Page, Text
from trackread.sheets.overflow import in_full
from trackread.sheets.paper import Paper

# The type size of the head as a share of the paper's width: 13 pt on A4.
HEAD_SIZE = 0.0218
# Most printers leave 4.2 mm, 12 pt, of an edge white; a clip or binding takes more on the left.
EDGE = 13.0
BINDING = 20.0
# Beside the rows on the right, for the bars of changed frames.
MARGIN = 10.0
# A row lower than this, in ems, runs the letters of one row into the next.
LEAST_ROW = 1.02


def lay_out(sheet: Sheet, paper: Paper, *, measure: Measure, count: Count | None = None) -> tuple[Page, ...]:
    """The pages of a sheet, frames in order, and after them pages with any text that had to be cut.

    Raises SheetError if the head leaves no room for the paper's rows.
    """
    draft = draft_of(sheet, measure, count)
    frame = Frame(BINDING, EDGE, paper.width - EDGE - MARGIN, paper.height - EDGE, HEAD_SIZE * paper.width)
    _, head_bottom = head(sheet, frame, "page 000 of 000", measure)
    under = Frame(frame.left, head_bottom, frame.right, frame.bottom, frame.em)
    contents = _contents(draft, paper, under)
    return tuple(
        Page(paper.width, paper.height, (*head(sheet, frame, f"page {n} of {len(contents)}", measure)[0], *marks))
        for n, marks in enumerate(contents, 1)
    )


def _contents(draft: Draft, paper: Paper, under: Frame) -> tuple[tuple[Mark, ...], ...]:
    """What stands under the head on each page."""
    plans = tuple(_plans(draft, paper, under))
    keys = tuple(key_of(draft, plan, first, stop) for first, stop, plan in plans)
    bottom = under.bottom - height_of(keys, under, draft.measure)
    page = Frame(under.left, under.top, under.right, bottom, under.em)
    fields = _fields(draft, paper, page, plans)
    sides = [
        (*_side(draft, field, plan, page), *foot(key, under, draft.measure, bottom))
        for field, (_, _, plan), key in zip(fields, plans, keys, strict=True)
    ]
    cut = dict.fromkeys(mark.whole for marks in sides for mark in marks if isinstance(mark, Text) and mark.whole)
    below = Frame(under.left, fields[-1].bottom + 2 * under.em, under.right, bottom, under.em)
    appendix = in_full(tuple(cut), below, page, draft.measure)
    return (*sides[:-1], (*sides[-1], *appendix.below), *appendix.pages)


def _fields(draft: Draft, paper: Paper, page: Frame, plans: tuple[tuple[int, int, Plan], ...]) -> tuple[Field, ...]:
    """The rows of each side of paper."""
    above = max(names_height(plan, draft.sheet, draft.measure, page.em) for _, _, plan in plans)
    top = page.top + above
    row_height = (page.bottom - top) / paper.rows
    if row_height < LEAST_ROW * paper.type_size:
        raise SheetError(
            f"the head of this sheet leaves no room for {paper.rows} rows on {paper.name}: "
            "shorten its warning, or the names in it"
        )
    number = draft.sheet.first_number
    return tuple(Field(first, stop, top, row_height, paper.type_size, number, paper.rows) for first, stop, _ in plans)


def _side(draft: Draft, field: Field, plan: Plan, page: Frame) -> Iterator[Mark]:
    """What stands between the head and the foot of a side of paper."""
    over = Frame(page.left, page.top, page.right, field.top, page.em)
    yield from headings(plan, draft.sheet, over, draft.measure, count=draft.count)
    yield from body(draft, field, plan)


def _plans(draft: Draft, paper: Paper, under: Frame) -> Iterator[tuple[int, int, Plan]]:
    """The frames of each side of paper, from and to, with its columns."""
    width = under.right - under.left
    everyone = tuple(range(len(draft.voices)))
    for first in range(0, draft.sheet.length, paper.rows):
        stop = min(first + paper.rows, draft.sheet.length)
        for group in groups(_need(draft, everyone, first, stop), width / paper.type_size):
            yield first, stop, plan_for(_need(draft, group, first, stop), under.left, width, paper.type_size)


def _need(draft: Draft, voices: tuple[int, ...], first: int, stop: int) -> Need:
    last = str(draft.sheet.first_number + draft.sheet.length - 1)
    count, measure = draft.count, draft.measure
    return Need(
        number=max(2.2, measure(last, Face.BOLD) + 0.6),
        count=COUNT_SIZE * measure(count.label(draft.sheet.length), Face.CONDENSED) + 0.5 if count else 0.0,
        longest_word=draft.longest_word,
        voices=voices,
        speaking=tuple(draft.voices[number].speak_between(first, stop) for number in voices),
    )
