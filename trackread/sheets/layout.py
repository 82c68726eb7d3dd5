"""A sheet on paper: pages of marks, a row to a frame, nothing drawn yet.

Pure: what is needed of the typeface comes in as a `Measure`, and of the board as its shape, its width as a multiple
of its height. Everything is worked out in points. What is read while animating is of the paper's type size; the head,
headings and foot are multiples of HEAD_SIZE.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from itertools import chain
from types import MappingProxyType

from trackread.core.sheet import Sheet
from trackread.errors import SheetError
from trackread.sheets.board import large
from trackread.sheets.body import body
from trackread.sheets.columns import MOUTH_MOST, MOUTH_MOST_PRINTED, Need, Plan, groups, plan_for
from trackread.sheets.counts import Count
from trackread.sheets.draft import Draft, draft_of
from trackread.sheets.field import Field
from trackread.sheets.fitting import Measure
from trackread.sheets.grid import COUNT_SIZE
from trackread.sheets.header import head
from trackread.sheets.headings import headings, names_height
from trackread.sheets.key import AT_THE_END, Key, foot, height_of, key_of
from trackread.sheets.legend import at_the_end
from trackread.sheets.marks import Face, Mark, Page, Text
from trackread.sheets.mouths import Sights
from trackread.sheets.overflow import Appendix, in_full
from trackread.sheets.paper import Frame, Paper
from trackread.sheets.positions import room_for

# The type size of the head as a share of the paper's width: 13 pt on A4.
HEAD_SIZE = 0.0218
# Most printers leave 4.2 mm, 12 pt, of an edge white; a clip or binding takes more on the left.
EDGE = 13.0
BINDING = 20.0
# Beside the rows on the right, for the bars of changed frames.
MARGIN = 10.0
# A row lower than this, in ems, runs the letters of one row into the next.
LEAST_ROW = 1.02
NOTHING_SEEN: Mapping[str, Sights] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Side:
    """One side of paper with rows: its frames, its columns and its key."""

    first: int
    stop: int
    plan: Plan
    key: Key


def lay_out(
    sheet: Sheet,
    paper: Paper,
    *,
    measure: Measure,
    count: Count | None = None,
    board_shape: float | None = None,
    sights: Mapping[str, Sights] = NOTHING_SEEN,
) -> tuple[Page, ...]:
    """The pages of a sheet, frames in order, and after them pages with any text that had to be cut, and its mouths.

    `board_shape` is None where no picture is printed, `sights` are what mouths look like, by character. Raises
    SheetError if the head leaves no room for the paper's rows, or the positions of the camera have none.
    """
    draft = draft_of(sheet, measure, count, sights)
    frame = _frame(paper)
    sides = _sides(draft, paper, frame)
    rows = _above(draft, sides, frame) + LEAST_ROW * paper.type_size * paper.rows
    lowest = _bottom(draft, sides, frame, lists=False) - rows
    headed = partial(head, sheet, frame, measure=measure, lowest=lowest, shape=board_shape)
    above = headed("page 000 of 000")
    under = replace(frame, top=above.bottom)
    lists = above.bottom <= _bottom(draft, sides, frame, lists=True) - rows
    contents = _contents(draft, paper, under, sides, about=above.cut, board_shape=board_shape, lists=lists)
    return tuple(
        Page(paper.width, paper.height, (*headed(f"page {n} of {len(contents)}").marks, *marks))
        for n, marks in enumerate(contents, 1)
    )


def changed_pages(
    sheet: Sheet,
    paper: Paper,
    *,
    measure: Measure,
    count: Count | None = None,
    sights: Mapping[str, Sights] = NOTHING_SEEN,
) -> tuple[int, ...]:
    """The numbers, from 1, of the pages with frames that are not what they were on the issue before.

    With them go the pages that have their texts in full, and their mouths. Raises SheetError as `lay_out` does.
    """
    sides = _sides(draft_of(sheet, measure, count, sights), paper, _frame(paper))
    found = [
        number
        for number, side in enumerate(sides, 1)
        if any(first < side.stop and side.first < stop for first, stop in sheet.changed)
    ]
    if not found:
        return ()
    pages = lay_out(sheet, paper, measure=measure, count=count, sights=sights)
    listing = range(min(len(sides) + 1, len(pages)), len(pages) + 1)
    marks = [mark for number in found for mark in pages[number - 1].marks]
    mouths = any(isinstance(mark, Text) and mark.text == AT_THE_END.text for mark in marks) or sights
    return tuple(sorted({*found, *(listing if mouths or _cut(marks) else ())}))


def _frame(paper: Paper) -> Frame:
    """The part of the paper that is printed on."""
    return Frame(BINDING, EDGE, paper.width - EDGE - MARGIN, paper.height - EDGE, HEAD_SIZE * paper.width)


def _contents(
    draft: Draft,
    paper: Paper,
    under: Frame,
    sides: tuple[Side, ...],
    *,
    about: str,
    board_shape: float | None,
    lists: bool,
) -> tuple[tuple[Mark, ...], ...]:
    """What stands under the head on each page; `about` is what the head had no room for.

    The feet have `lists` of the mouths that are called by number, or these are listed at the end.
    """
    bottom = _bottom(draft, sides, under, lists=lists)
    page = replace(under, bottom=bottom)
    fields = _fields(draft, paper, page, sides)
    marks = [
        (*_side(draft, field, side.plan, page), *foot(side.key, under, draft.measure, bottom, lists=lists))
        for field, side in zip(fields, sides, strict=True)
    ]
    below = replace(page, top=fields[-1].bottom + 2 * under.em)
    texts = (*((f"What happens: {about}",) if about else ()), *_cut(chain.from_iterable(marks)))
    full = in_full(texts, below, page, draft.measure)
    is_listed = draft.is_seen or (not lists and any(side.key.mouths for side in sides))
    mouths = at_the_end(draft, _rest(below, full), page) if is_listed else Appendix((), ())
    taken = (*full.below, *mouths.below)
    board = () if taken or not board_shape else large(below, board_shape, draft.sheet.heading.board)
    return (*marks[:-1], (*marks[-1], *taken, *board), *full.pages, *mouths.pages)


def _rest(below: Frame, full: Appendix) -> Frame:
    """What is left below the last row by texts that stand there in full."""
    lowest = max((mark.baseline for mark in full.below if isinstance(mark, Text)), default=None)
    return below if lowest is None else replace(below, top=lowest + below.em)


def _cut(marks: Iterable[Mark]) -> tuple[str, ...]:
    """The texts of which some had no room, in full, each once."""
    return tuple(dict.fromkeys(mark.whole for mark in marks if isinstance(mark, Text) and mark.whole))


def _bottom(draft: Draft, sides: tuple[Side, ...], frame: Frame, *, lists: bool) -> float:
    """Where the foot begins, high enough for the longest of the keys."""
    return frame.bottom - height_of((side.key for side in sides), frame, draft.measure, lists=lists)


def _above(draft: Draft, sides: tuple[Side, ...], frame: Frame) -> float:
    """What the headings of the columns take above the rows."""
    return max(names_height(side.plan, draft.sheet, draft.measure, frame.em) for side in sides)


def _fields(draft: Draft, paper: Paper, page: Frame, sides: tuple[Side, ...]) -> tuple[Field, ...]:
    """The rows of each side of paper."""
    top = page.top + _above(draft, sides, page)
    row_height = (page.bottom - top) / paper.rows
    if row_height < LEAST_ROW * paper.type_size:
        raise SheetError(
            f"the head of this sheet leaves no room for {paper.rows} rows on {paper.name}: "
            "shorten its warning, or the names in it"
        )
    number = draft.sheet.first_number
    return tuple(Field(side.first, side.stop, top, row_height, paper.type_size, number, paper.rows) for side in sides)


def _side(draft: Draft, field: Field, plan: Plan, page: Frame) -> Iterator[Mark]:
    """What stands between the head and the foot of a side of paper."""
    yield from headings(plan, draft.sheet, replace(page, bottom=field.top), draft.measure, count=draft.count)
    yield from body(draft, field, plan)


def _sides(draft: Draft, paper: Paper, frame: Frame) -> tuple[Side, ...]:
    """The sides of paper in order of frames, those with the same frames in order of voices."""
    width = frame.right - frame.left
    found: list[Side] = []
    for first in range(0, draft.sheet.length, paper.rows):
        stop = min(first + paper.rows, draft.sheet.length)
        everyone = _need(draft, tuple(range(len(draft.voices))), first, stop)
        for group in groups(everyone, width / paper.type_size):
            plan = plan_for(_need(draft, group, first, stop), frame.left, width, paper.type_size)
            if plan.action.width < 0:
                raise SheetError(
                    f"the camera's positions from frame {draft.sheet.first_number + first} on have no room on "
                    f"{paper.name}: give fewer axes, or a wider paper"
                )
            found.append(Side(first, stop, plan, key_of(draft, plan, first, stop, em=paper.type_size)))
    return tuple(found)


def _need(draft: Draft, voices: tuple[int, ...], first: int, stop: int) -> Need:
    last = str(draft.sheet.first_number + draft.sheet.length - 1)
    count, measure = draft.count, draft.measure
    return Need(
        number=max(2.2, measure(last, Face.BOLD) + 0.6),
        count=COUNT_SIZE * measure(count.label(draft.sheet.length), Face.CONDENSED) + 0.5 if count else 0.0,
        longest_word=draft.longest_word,
        voices=voices,
        speaking=tuple(draft.voices[number].speak_between(first, stop) for number in voices),
        positions=room_for(draft.positions, first, stop, measure),
        mouth_most=MOUTH_MOST_PRINTED if draft.has_mouths else MOUTH_MOST,
    )
