"""The check movie of a shot: its plan of mouths talking, with its sound, before anybody spends a day on it."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from trackread.book.book import Book
from trackread.book.readings import readings_with
from trackread.core.drawing import Look
from trackread.core.mouth import Worn
from trackread.core.sheet import Sheet, Voice
from trackread.core.timebase import Frame
from trackread.errors import FilmError
from trackread.film.film import Film, FilmVoice
from trackread.film.gif import gif_of
from trackread.film.movie import movie_of
from trackread.film.strip import strip_of
from trackread.workflow.kits import KitInUse, looks_of
from trackread.workflow.material import gather
from trackread.workflow.mouth_plans import PlanWish, dressed, plan_wish
from trackread.workflow.pinning import brief_named
from trackread.workflow.shot_brief import ShotBrief
from trackread.workflow.shot_sheet import reading_ids, sheet_of_shot
from trackread.workflow.shot_sound import shot_sound
from trackread.workflow.shots import sheet_wish

MOVIE, MOVING_PICTURE, STILL = ".mp4", ".gif", ".png"
ENDINGS = (MOVIE, MOVING_PICTURE, STILL)


@dataclass(frozen=True, slots=True)
class Made:
    """A film in the bytes of its files, by their places, and how many frames it has."""

    files: Mapping[Path, bytes]
    frames: int


def shot_film(book: Book, name: str, out: Path, how: str = "") -> Made:
    """The film of a shot, by the ending of `out`: a movie with sound, a GIF, or pictures of all frames on pages.

    With `how`, mouths are worn otherwise than the production says (`on=ones lead=0`). Raises CutError for a shot that
    there is none of, KitError for a wish that means nothing, FilmError for another ending or a shot nobody is seen in,
    SoundError for a recording that is missing.
    """
    ending = out.suffix.lower()
    if ending not in ENDINGS:
        raise FilmError(f"{out}: a film is written as {', '.join(ENDINGS)}: give its file one of these endings")
    material = gather(book)
    brief = brief_named(material, name)
    wish = plan_wish(how, book.production)
    film = film_of(book, dressed_brief(brief, wish, material.kits), wish, material.kits)
    if ending == MOVIE:
        return Made({out: movie_of(film, shot_sound(book, material, brief.shot))}, film.length)
    if ending == MOVING_PICTURE:
        return Made({out: gif_of(film)}, film.length)
    return Made(dict(zip(pages_of(out), strip_of(film), strict=False)), film.length)


def pages_of(out: Path) -> Iterator[Path]:
    """The place of each page: `strip.png`, `strip-2.png`, and so on."""
    yield out
    number = 2
    while True:
        yield out.with_stem(f"{out.stem}-{number}")
        number += 1


def dressed_brief(brief: ShotBrief, wish: PlanWish, kits: Sequence[KitInUse]) -> ShotBrief:
    """A brief whose puppet wears the kit of a wish, if that names one."""
    own = {one.kit.name.casefold(): one.kit.character for one in kits}
    owner = own.get((wish.kit or "").casefold())
    mouthed = (
        dressed(puppet, wish.kit, kits) if wish.kit and owner in (None, puppet.character) else puppet
        for puppet in brief.mouthed
    )
    return replace(brief, mouthed=tuple(mouthed))


def film_of(book: Book, brief: ShotBrief, wish: PlanWish, kits: Sequence[KitInUse]) -> Film:
    """What is seen of a shot: all who speak, and whoever else has a mouth that is seen."""
    asked = replace(sheet_wish(book.production), mouths=wish.rules)
    sheet = sheet_of_shot(brief, readings_with(book, reading_ids([brief])), asked, with_sound=False)
    looks = {one.kit.name: looks_of(one) for one in kits}
    return Film(
        titles=tuple(filter(None, (brief.shot.name, sheet.heading.production, wish.told))),
        rate=sheet.rate,
        length=sheet.length,
        first_number=sheet.first_number,
        voices=tuple(voices_of(sheet, brief, looks.__getitem__)),
    )


def voices_of(sheet: Sheet, brief: ShotBrief, looks: Callable[[str], dict[str, Look]]) -> Iterator[FilmVoice]:
    """The voices of a film; a puppet that says nothing is at rest."""
    kits = {puppet.character: puppet.kit for puppet in brief.mouthed}
    for voice in sheet.voices:
        yield film_voice(voice, looks(kits[voice.character].name) if voice.mouths else {})
    speaking = {voice.character for voice in sheet.voices}
    for character, kit in kits.items():
        if character not in speaking:
            yield FilmVoice(character, looks(kit.name), (Worn(kit.rest, Frame(0), sheet.length),))


def film_voice(voice: Voice, looks: dict[str, Look]) -> FilmVoice:
    """A voice with what it says; where it comes from, if from no mouth that is seen, stands behind its name."""
    name = f"{voice.character} ({voice.extension})" if voice.extension else voice.character
    return FilmVoice(name, looks, voice.mouths, voice.words, voice.beats)
