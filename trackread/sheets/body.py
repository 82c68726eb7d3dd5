"""Everything between the headings and the foot of a page: the ground, the sound, and what stands on frames."""

from collections.abc import Iterator

from trackread.sheets import grid, waveform
from trackread.sheets.cells import Column, write
from trackread.sheets.columns import Plan, VoiceLanes
from trackread.sheets.departures import beside_words
from trackread.sheets.draft import Draft
from trackread.sheets.field import Field
from trackread.sheets.marks import Face, Mark, Text
from trackread.sheets.mouths import mouths
from trackread.sheets.pauses import pauses
from trackread.sheets.positions import positions
from trackread.sheets.runs import SOUND_GOES_ON
from trackread.sheets.stress import openings, stresses


def body(draft: Draft, field: Field, plan: Plan) -> Iterator[Mark]:
    """The marks of the rows of one page."""
    sheet = draft.sheet
    yield from grid.ground(field, plan, sheet.rate)
    yield from grid.numbers(field, plan.number, sheet.rate, draft.measure)
    if draft.count and plan.count:
        yield from grid.counts(field, plan.count, draft.count, draft.measure)
    yield from grid.changes(field, plan, sheet.changed)
    if plan.level:
        yield from waveform.level(field, plan.level, sheet.voices)
    if plan.pitch:
        for number, voice in enumerate(sheet.voices):
            yield from waveform.pitch(field, plan.pitch, voice, number)
    for lanes in plan.voices:
        yield from _voice(draft, lanes, field)
    yield from _aside(draft, plan, field)
    if field.stop == sheet.length and field.stop - field.first < field.rows:
        # Below the last row, so that no one looks for more; of a full page the foot says it.
        end = f"end, {sheet.length} frames"
        yield Text((plan.count or plan.number).right, field.bottom + field.em, end, Face.BOLD, 0.7 * field.em)


def _voice(draft: Draft, lanes: VoiceLanes, field: Field) -> Iterator[Mark]:
    voice, texts = draft.sheet.voices[lanes.number], draft.voices[lanes.number]
    mouth = Column(f"{voice.character}'s mouth", lanes.mouth, field, draft.measure)
    yield from mouths(texts.mouths, mouth, draft.sights.get(voice.character, {}))
    if not (lanes.stress and lanes.word and lanes.sound):
        return
    yield from openings(texts.words, lanes.stress.left, lanes.word.right, field)
    yield from stresses(texts.beats, texts.phrases, lanes.stress, field)
    name, measure = voice.character, draft.measure
    yield from pauses(texts.pauses, Column(f"{name}'s pause", lanes.word, field, measure, turned=lanes.turned))
    yield from write(texts.words, Column(f"{name}'s word", lanes.word, field, measure, turned=lanes.turned))
    # A sound broken over two rows would read as two sounds.
    sound = Column(f"{name}'s sound", lanes.sound, field, measure, breaks=False, goes_on=SOUND_GOES_ON)
    yield from write(texts.sounds, sound)
    yield from beside_words(voice, lanes, field)


def _aside(draft: Draft, plan: Plan, field: Field) -> Iterator[Mark]:
    action = draft.action if plan.camera else draft.aside
    yield from write(action, Column("action", plan.action, field, draft.measure, flows=True))
    if plan.positions:
        yield from positions(draft.positions, Column("positions", plan.positions, field, draft.measure))
    if plan.camera:
        yield from write(draft.camera, Column("camera", plan.camera, field, draft.measure, flows=True))
