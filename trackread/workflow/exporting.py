"""Sheets of shots written in the forms of other programs: for the boards, the computer-made elements and the edit."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from trackread.book.book import Book
from trackread.core.cut import Cut
from trackread.exports.captions import captions_of_film
from trackread.exports.csv_text import csv_of
from trackread.exports.json_text import json_of
from trackread.exports.markers import timeline_of
from trackread.exports.shot import ExportedShot, Film
from trackread.exports.spreadsheet import spreadsheet_of
from trackread.exports.table import frames_table, lines_table
from trackread.exports.textgrids import textgrid_of_shot
from trackread.exports.workbook import workbook_of
from trackread.workflow.made_sheets import made_sheets
from trackread.workflow.material import Material
from trackread.workflow.printed_sheets import file_names
from trackread.workflow.shot_brief import ShotBrief
from trackread.workflow.shots import sheet_wish
from trackread.workflow.writing import make_folder, write_all

Writer = Callable[[Film], bytes]
# The forms that hold all shots in one file, by the ending of its name.
FORMS: Mapping[str, Writer] = {
    "csv": lambda film: csv_of(frames_table(film)),
    "json": json_of,
    "xlsx": lambda film: workbook_of([frames_table(film), lines_table(film)]),
    "ods": lambda film: spreadsheet_of([frames_table(film), lines_table(film)]),
    "vtt": captions_of_film,
    "otio": timeline_of,
}
EACH = "textgrid"  # and that which has a file for each shot
NAMES = (*FORMS, EACH)


@dataclass(frozen=True, slots=True)
class Written:
    """The files that were written, and how many shots are in them."""

    files: tuple[Path, ...]
    shots: int


def export(book: Book, material: Material, briefs: Sequence[ShotBrief], *, form: str, to: Path) -> Written:
    """Writes shots in a form, one of NAMES: to the file `to`, or for TextGrids to a file for each in the folder `to`.

    Raises OutputError, having written nothing, where that cannot be done.
    """
    film = film_of(book, material.cut, briefs)
    if form != EACH:
        write_all({to: FORMS[form](film)})
        return Written((to,), len(film.shots))
    make_folder(to)
    names = file_names([brief.shot for brief in briefs])
    contents = {(to / names[shot.name]).with_suffix(".TextGrid"): textgrid_of_shot(shot) for shot in film.shots}
    write_all(contents)
    return Written(tuple(contents), len(film.shots))


def film_of(book: Book, cut: Cut, briefs: Sequence[ShotBrief]) -> Film:
    """Shots with their sheets."""
    made = made_sheets(book, briefs, sheet_wish(book.production))
    shots = tuple(ExportedShot(brief.shot.name, brief.scene, brief.shot.first, sheet) for brief, sheet in made)
    return Film(book.production.title, cut.rate, cut.start, shots)
