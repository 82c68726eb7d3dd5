"""Which sheet somebody holds in his hand, by its code or a picture of it, and whether it is the current one."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from trackread.book.book import Book
from trackread.book.issues import Issue, issues, pdf_of, snapshot_of
from trackread.changes.sheets import compare_sheets
from trackread.errors import BookError, OutputError
from trackread.sheets.scanning import code_in
from trackread.workflow.codes import PREFIX, code_typed
from trackread.workflow.issued_sheet import issued_sheet
from trackread.workflow.issuing import issue_coded
from trackread.workflow.stale import StaleSheet, plain_sheet, stale_sheets

PICTURES = (".png", ".jpg", ".jpeg")


@dataclass(frozen=True, slots=True)
class Which:
    """A sheet that is out. `by` is the issue that has replaced it, None if it is the current one; `told` says what
    differs from that. `stale` is what has changed since the current issue was made, None if nothing has.
    """

    issue: Issue
    by: Issue | None
    told: tuple[str, ...]
    stale: StaleSheet | None


def which(book: Book, asked: str) -> tuple[Which, ...]:
    """The sheet of a code, or the sheets of all codes in a picture of paper.

    Raises BookError for a code that no sheet has or a picture without one, SheetError for a file that is no picture.
    """
    return tuple(which_of(book, code) for code in codes_of(asked))


def codes_of(asked: str) -> Iterator[str]:
    """The codes that are meant: the text itself, or those in the picture of that name."""
    path = Path(asked)
    if path.suffix.lower() not in PICTURES:
        yield code_typed(asked)
        return
    try:
        content = path.read_bytes()
    except OSError as error:
        raise OutputError(f"{path} cannot be read: {error.strerror or error}") from error
    yield from codes_seen(content, str(path))


def codes_seen(picture: bytes, name: str) -> Iterator[str]:
    """The codes in a picture of paper that is called so. Raises as `which` does."""
    found = code_in(picture)
    ours = [text for text in found if text.startswith(f"{PREFIX}-")]
    if not ours:
        others = f" of ours, but {', '.join(found)}" if found else ""
        raise BookError(f"{name}: no square code{others} is to be seen in it: take the picture closer, in better light")
    yield from map(code_typed, ours)


def which_of(book: Book, code: str) -> Which:
    """The sheet of a code."""
    issue = issue_coded(book, code)
    current = issues(book, shot=issue.shot)[-1]
    stale = next(iter(stale_sheets(book, only=issue.shot).sheets), None)
    if issue.current:
        return Which(issue, None, (), stale)
    before, after = (issued_sheet(snapshot_of(book, one)) for one in (issue, current))
    change = compare_sheets(before.sheet, after.sheet, before.head_lost(after.shot))
    return Which(issue, current, change.told, stale)


def pdf_as_issued(book: Book, issue: Issue) -> bytes:
    """The PDF of an issue, byte for byte."""
    return pdf_of(book, issue)


def plain_which(one: Which) -> dict[str, object]:
    """A sheet as plain values, for JSON."""
    issue, by = one.issue, one.by
    return {
        "code": issue.code,
        "shot": issue.shot,
        "issue": issue.number,
        "unit": issue.unit,
        "date": issue.date,
        "current": issue.current,
        "replaced_by": by and {"issue": by.number, "code": by.code, "unit": by.unit, "date": by.date},
        "differs": list(one.told),
        "stale": one.stale and plain_sheet(one.stale),
    }
