"""A sheet with what all its pages share: its texts in order, the typeface's widths and the way frames are counted."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from operator import attrgetter

from trackread.core.sheet import Beat, Phrase, Sheet, Voice
from trackread.sheets.cells import PAD
from trackread.sheets.counts import Count
from trackread.sheets.departures import remarks
from trackread.sheets.fitting import Measure
from trackread.sheets.marks import Face
from trackread.sheets.mouths import MouthRun, Sights, mouth_runs
from trackread.sheets.runs import SOUND_GOES_ON, Run, runs_of, spoken, touching, weighty


@dataclass(frozen=True, slots=True)
class VoiceTexts:
    """A voice's words, with its events among them in brackets, and all else that stands in its columns, in order."""

    words: tuple[Run, ...]
    sounds: tuple[Run, ...]
    pauses: tuple[Run, ...]
    beats: tuple[Beat, ...]
    phrases: tuple[Phrase, ...]
    mouths: tuple[MouthRun, ...]

    def speak_between(self, first: int, stop: int) -> bool:
        """Whether anything is heard on the frames from `first` to `stop`."""
        heard = (*touching(self.words, first, stop), *touching(self.sounds, first, stop))
        return any(run.stop > first for run in heard)


@dataclass(frozen=True, slots=True)
class Draft:
    """What every page is drawn from.

    `action` has what is remarked of the voices as well, `aside` is both in one;
    `longest_word` is the room it takes, in ems, so that columns stay alike from page to page;
    `sights` is what mouths look like, by character.
    """

    sheet: Sheet
    measure: Measure
    count: Count | None
    voices: tuple[VoiceTexts, ...]
    action: tuple[Run, ...]
    camera: tuple[Run, ...]
    aside: tuple[Run, ...]
    positions: tuple[Run, ...]
    longest_word: float
    sights: Mapping[str, Sights]

    @property
    def has_mouths(self) -> bool:
        return any(voice.mouths for voice in self.voices)

    @property
    def is_seen(self) -> bool:
        """Whether it is known what any mouth on the sheet looks like."""
        named = zip(self.sheet.voices, self.voices, strict=True)
        return any(run.name in self.sights.get(voice.character, ()) for voice, texts in named for run in texts.mouths)


def draft_of(sheet: Sheet, measure: Measure, count: Count | None, sights: Mapping[str, Sights]) -> Draft:
    """The draft of a sheet."""
    voices = tuple(_voice_texts(voice, sheet.length) for voice in sheet.voices)
    words = [run for voice in voices for run in voice.words]
    widths = (measure(run.text, Face.BOLD if run.bold else Face.REGULAR) for run in words)
    beside = (*remarks(sheet), *sheet.action)
    departing = {cell.first for voice in sheet.voices for cell in (*voice.departures, *voice.missing)}
    return Draft(
        sheet=sheet,
        measure=measure,
        count=count,
        voices=voices,
        action=weighty(runs_of(beside, "; ", sheet.length), departing),
        camera=runs_of(sheet.camera, "; ", sheet.length),
        aside=weighty(runs_of((*beside, *sheet.camera), "; ", sheet.length), departing),
        positions=runs_of(sheet.positions, ", ", sheet.length),
        longest_word=2 * PAD + max(widths, default=0.0),
        sights=sights,
    )


def _voice_texts(voice: Voice, length: int) -> VoiceTexts:
    events = tuple(replace(event, text=f"({event.text})") for event in voice.events)
    words = runs_of((*events, *voice.words), " ", length)
    return VoiceTexts(
        words=spoken(words, voice.words, voice.beats),
        sounds=runs_of(voice.sounds, "", length, goes_on=SOUND_GOES_ON),
        # The length of a pause is a number, which a mark behind it would spoil.
        pauses=runs_of(voice.pauses, "", length, goes_on=""),
        beats=tuple(sorted(voice.beats, key=attrgetter("first"))),
        phrases=tuple(sorted(voice.phrases, key=attrgetter("first"))),
        mouths=mouth_runs(voice.mouths, voice.mouth_names),
    )
