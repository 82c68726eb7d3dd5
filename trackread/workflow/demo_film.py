"""The demo's production: its takes put into shots, its sheets issued, and what a later cut does to them.

It is made beside its place and moved there once it is whole, so there is never half of one; one that is there already
is left as it is. What is shown is asked of its book, so it is the same however often the demo is run.
"""

import os
import shutil
import tempfile
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, cast

from trackread.book.archive import KITS
from trackread.book.book import Book
from trackread.book.cuts import CutNote, cuts
from trackread.book.drafts import DraftNote, drafts
from trackread.book.issues import Issue, issues, pdf_of, snapshot_of
from trackread.book.readings import save_reading
from trackread.book.sessions import add_session, number_takes, save_piece
from trackread.book.shot_notes import ShotNote, shot_notes
from trackread.book.sounds import keep_sound, printable
from trackread.book.takes import takes
from trackread.core.plain import reading_to_plain
from trackread.core.production import Character, Production
from trackread.core.session import Guess, Stretch, StretchKind, Wholeness
from trackread.core.timebase import Sample
from trackread.reading.long_recordings import open_recording
from trackread.sessions.recorder import recorder_notes
from trackread.workflow.adding_cut import ListWish, add_lists
from trackread.workflow.demo import PRODUCTION, Told, demo_folder, demo_pronunciations
from trackread.workflow.drafts import add, compared, script_lines
from trackread.workflow.drawing import opened
from trackread.workflow.issued_sheet import IssuedSheet, issued_sheet
from trackread.workflow.issuing import IssueWish, give_out
from trackread.workflow.kits import kits_in
from trackread.workflow.material import gather
from trackread.workflow.printed_sheets import file_stem, issue_files
from trackread.workflow.sheet_of_take import Terms
from trackread.workflow.shot_film import shot_film
from trackread.workflow.shot_told import NoteKind
from trackread.workflow.shots import Choice, chosen_briefs
from trackread.workflow.stale import Stale, stale_sheets
from trackread.workflow.status import By, Tally, status
from trackread.workflow.take_readings import PRONUNCIATIONS, key_of, pronunciations_digest
from trackread.workflow.telling import Telling, tell, tell_done
from trackread.workflow.writing import cannot_write, make_folder, write_all

AUTHOR = "the demo"
FOLDER, ISSUED = "production", "issued"  # in the demo's folder
REASON = "to be shot"

SheetOut = tuple[Issue, IssuedSheet]


@dataclass(frozen=True, slots=True)
class FilmShot:
    """A shot of the demo: the unit that shoots it, what is told of it, and how many of its frames are shot then."""

    code: str
    unit: str
    telling: Telling
    done: int | None


@dataclass(frozen=True, slots=True)
class Film:
    """What the demo's production is made of besides its takes: the screenplay, the lists of each cut, its shots."""

    script: Path
    cuts: tuple[tuple[Path, ...], ...]
    shots: tuple[FilmShot, ...]

    @property
    def units(self) -> tuple[str, ...]:
        return tuple(sorted({shot.unit for shot in self.shots}))


@dataclass(frozen=True, slots=True)
class Shown:
    """What the demo's production is, as its book has it; its files came from the folder `made_from`.

    `rate` is as people write it, `tally` of all lines and takes. `shots` are those of the demo of which something is
    told, `done` says how many frames are told to be shot. `files` are those of the issues, by their ids; `first` is the
    issue to look at first, and `movie` its mouths talking, None where there is none. `kits` are those of mouths.
    """

    folder: Path
    made_from: Path
    production: Production
    rate: str
    drafts: tuple[DraftNote, ...]
    tally: Tally
    recordings: tuple[str, ...]
    cuts: tuple[CutNote, ...]
    shots: tuple[FilmShot, ...]
    done: Mapping[str, int]
    issues: tuple[Issue, ...]
    files: Mapping[int, Path]
    first: Issue | None
    kits: tuple[str, ...]
    movie: Path | None
    stale: Stale


def demo_film() -> Film:
    """The film as the list in the demo's folder has it."""
    folder = demo_folder()
    listed = tomllib.loads((folder / "film.toml").read_text(encoding="utf-8"))
    return Film(
        script=folder / listed["script"],
        cuts=tuple(tuple(folder / name for name in names) for names in listed["cuts"]),
        shots=tuple(film_shot(folder, shot) for shot in listed["shot"]),
    )


def film_shot(folder: Path, listed: Mapping[str, Any]) -> FilmShot:
    """A shot as the list has it, its files found beside the list."""
    board, action, camera = (
        folder / listed[kind] if kind in listed else None for kind in ("board", "action", "camera")
    )
    telling = Telling(
        scene=listed.get("scene"),
        about=listed["about"],
        board=board,
        present=tuple(listed["present"]),
        action=action,
        camera=camera,
        every_position=camera is not None,
    )
    return FilmShot(listed["code"], listed["unit"], telling, listed.get("done"))


def check_place(folder: Path) -> None:
    """Opens the production that is in the demo's folder, if there is one. Raises what `Book.open` does."""
    place = folder / FOLDER
    if os.path.lexists(place):
        Book.open(place).close()


def show_film(folder: Path, told: Sequence[Told], terms: Terms, day: date) -> Shown:
    """Makes the production in the demo's folder if there is none, writes its issued sheets, and gives what it is.

    Raises OutputError where something cannot be written, and what the steps of a production raise.
    """
    film, place = demo_film(), folder / FOLDER
    if not os.path.lexists(place):
        make_film(place, film, told, terms=terms, day=day)
    with Book.open(place) as book:
        out = sheets_out(book)
        name = issue_files([sheet.shot for _, sheet in out])
        files = {issue.id: folder / ISSUED / name(issue) for issue, _ in out}
        make_folder(folder / ISSUED)
        write_all({files[issue.id]: pdf_of(book, issue) for issue, _ in out})
        first = first_to_open(out)
        movie = folder / f"{file_stem(first.shot)}.mp4" if first else None
        if first and movie:
            write_all(shot_film(book, first.shot, movie).files)
        return shown(book, film, out, files, movie=movie)


def make_film(place: Path, film: Film, told: Sequence[Told], *, terms: Terms, day: date) -> None:
    """Makes the production, whole or not at all."""
    characters = dict.fromkeys(one.take.character for one in told)
    production = Production(
        title=PRODUCTION,
        rate=terms.rate,
        first_frame=terms.first_number,
        characters=tuple(map(Character, characters)),
        units=len(film.units),
    )
    try:
        with tempfile.TemporaryDirectory(prefix=f".{FOLDER}-", dir=place.parent) as beside:
            made = Path(beside) / FOLDER
            with Book.create(made, production) as book:
                fill(book, film, told, day)
            os.rename(made, place)
    except OSError as error:
        raise cannot_write(place, error.strerror or str(error)) from error


def fill(book: Book, film: Film, told: Sequence[Told], day: date) -> None:
    """Everything that is done in the demo's production, in the order of doing it."""
    shutil.copyfile(demo_pronunciations(), book.folder / PRONUNCIATIONS)
    shutil.copytree(demo_folder() / KITS, book.folder / KITS)
    add(book, compared(book, film.script), AUTHOR)
    lines = {line.text: line.id for line in script_lines(book, None, None)}
    for one in told:
        keep_take(book, one, lines[one.take.line])
    first, *later = film.cuts
    add_lists(book, first, ListWish(), AUTHOR)
    for shot in film.shots:
        tell(book, shot.code, shot.telling, AUTHOR)
    issue_all(book, film, day)
    for shot in film.shots:
        if shot.done is not None:
            tell_done(book, shot.code, shot.done, AUTHOR)
    for lists in later:
        add_lists(book, lists, ListWish(), AUTHOR)


def keep_take(book: Book, told: Told, line: str) -> None:
    """Puts a take that has been read into the book, as a session of its own that holds nothing else."""
    path, reading = told.take.path, told.reading
    recording, noted = open_recording(path), recorder_notes(path)
    sound = recording.sound(noted.start)
    keep_sound(book, path, sound, recording.format.channels)
    session = add_session(
        book,
        sound,
        printable(path.name),
        channel=told.take.channel,
        characters=(told.take.character,),
        stand_in=False,
        notes=noted.notes,
        author=AUTHOR,
    )
    stretch = Stretch(Sample(0), sound.length, StretchKind.TAKE, (Guess(line, 1.0, Wholeness.WHOLE),))
    save_piece(book, session.id, (0, sound.length), [stretch])
    number_takes(book, session.id)
    (take,) = takes(book, session=session.id)
    key = key_of(take, session, told.take.line, pronunciations=pronunciations_digest(book.folder))
    save_reading(book, key, cast(Mapping[str, object], reading_to_plain(reading, book.production.rate)))


def issue_all(book: Book, film: Film, day: date) -> None:
    """Issues the sheets of all shots, each to its unit."""
    material = gather(book)
    for unit in film.units:
        names = tuple(shot.code for shot in film.shots if shot.unit == unit)
        briefs = chosen_briefs(material, Choice(names))
        for _ in give_out(book, material, briefs, IssueWish(unit, REASON, day), author=AUTHOR, workers=None):
            pass
    # Printing keeps its own book open from task to task; this one is about to be moved.
    opened(book.folder.absolute()).close()


def sheets_out(book: Book) -> list[SheetOut]:
    """Every issue that is current with its sheet, in the order in which the shots stood in the cut."""
    found = [(issue, issued_sheet(snapshot_of(book, issue))) for issue in issues(book, current=True)]
    return sorted(found, key=lambda one: (one[1].cut, one[1].shot.first))


def shown(book: Book, film: Film, out: Sequence[SheetOut], files: Mapping[int, Path], *, movie: Path | None) -> Shown:
    """What the production is as its book has it."""
    notes, state = shot_notes(book), status(book, By.SCENE)
    return Shown(
        folder=book.folder,
        made_from=demo_folder(),
        production=book.production,
        rate=book.production.rate.name,
        drafts=drafts(book),
        tally=state.total,
        recordings=tuple(session.recording for session in state.sessions),
        cuts=cuts(book),
        shots=tuple(shot for shot in film.shots if NoteKind.ABOUT in notes.get(shot.code, ())),
        done={name: frames_done(told[NoteKind.DONE]) for name, told in notes.items() if NoteKind.DONE in told},
        issues=tuple(issue for issue, _ in out),
        files=files,
        first=first_to_open(out),
        kits=tuple(one.kit.name for one in kits_in(book.folder)),
        movie=movie,
        stale=stale_sheets(book),
    )


def frames_done(note: ShotNote) -> int:
    return cast(int, note.body["frames"])


def first_to_open(out: Sequence[SheetOut]) -> Issue | None:
    """The first sheet with two voices, which shows most of what a sheet can; without one, the first of all."""
    two = (issue for issue, sheet in out if len(sheet.sheet.voices) == 2)
    return next(two, out[0][0] if out else None)
