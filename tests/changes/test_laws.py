"""The laws of change control, over sheets of any kind: nothing that differs is passed over, nothing else is told."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.changes.makers import a_sheet, changed_sheets, columns, sheets, trimmed
from trackread.changes.aligned import Aligned
from trackread.changes.sheets import compare_sheets
from trackread.changes.voices import voice_sentences
from trackread.changes.words import changes_in
from trackread.core.rows import VoiceRow, held, rows_of

PARTS = ("word", "sound", "stress", "tone", "main", "event", "manner", "departure", "mouth")


def marked(change):
    return {frame for first, stop in change.spans for frame in range(first, stop)}


def compared(sheet, first):
    """The rows of a sheet of which `first` is the first that another has too: a mouth goes on there, if it is worn."""
    for row in rows_of(sheet):
        if row.frame != first:
            yield row
            continue
        yield replace(
            row,
            voices=tuple(replace(one, mouth=one.mouth and replace(one.mouth, starts=False)) for one in row.voices),
        )


def animated(row):
    """What is animated from a row but for the camera, whose place is repeated on the first row of a shot."""
    return {voice.character: voice for voice in row.voices if voice != VoiceRow(voice.character)}, row.action


@given(sheets())
def test_a_sheet_is_not_stale_beside_itself(sheet):
    change = compare_sheets(sheet, sheet, 0)

    assert not change.stale
    assert (change.redo, change.spans, change.told) == (None, (), ())


@settings(max_examples=300)
@given(changed_sheets())
def test_what_is_told_and_what_is_stale_are_one(sheets):
    change = compare_sheets(*sheets)

    assert bool(change.told) == change.stale


@given(changed_sheets())
def test_rows_outside_of_the_spans_are_as_they_were(sheets):
    before, after, lost = sheets
    change = compare_sheets(before, after, lost)
    ours, theirs = list(compared(before, max(lost, 0))), list(compared(after, max(-lost, 0)))

    for frame in set(range(after.length)) - marked(change):
        assert animated(theirs[frame]) == animated(ours[frame + lost])


@given(changed_sheets())
def test_new_frames_are_in_the_spans_and_spans_are_in_order_and_apart(sheets):
    before, after, lost = sheets
    change = compare_sheets(before, after, lost)
    new = {frame for frame in range(after.length) if not 0 <= frame + lost < before.length}

    assert new <= marked(change)
    assert all(one[1] < other[0] for one, other in zip(change.spans, change.spans[1:], strict=False))


@given(changed_sheets())
def test_no_frame_differs_before_the_first_one_that_is_told(sheets):
    before, after, lost = sheets
    change = compare_sheets(before, after, lost)
    differing = [frame + lost for frame in marked(change) if 0 <= frame + lost < before.length]

    assert all(change.first <= change.redo <= frame for frame in differing)
    assert change.redo is None or change.redo in range(max(0, lost), before.length)


@given(changed_sheets())
def test_every_row_on_which_a_voice_differs_is_told_of_and_no_voice_is_told_of_that_does_not_differ(sheets):
    before, after, lost = sheets
    told = compare_sheets(before, after, lost).told
    ours, theirs = (
        dict(by_voice(sheet, compared(sheet, first)))
        for sheet, first in ((before, max(lost, 0)), (after, max(-lost, 0)))
    )

    for name in {*ours, *theirs}:
        was, now = (rows.get(name, [VoiceRow(name)] * 99) for rows in (ours, theirs))
        kept = [frame for frame in range(after.length) if 0 <= frame + lost < before.length]
        differs = any(was[frame + lost] != now[frame] for frame in kept)
        fresh = any(now[frame] != VoiceRow(name) for frame in set(range(after.length)) - set(kept))
        sentences = [text for text in told if text.startswith((f"{name}:", f"{name}, script:"))]
        assert bool(sentences) or not differs
        assert differs or fresh or not sentences


def by_voice(sheet, rows=None):
    rows = list(rows or rows_of(sheet))
    for place, voice in enumerate(sheet.voices):
        yield voice.character, [row.voices[place] for row in rows]


@given(sheets(), st.integers(-9, 29), st.integers(-9, 9))
def test_a_trim_of_the_ends_alone_is_told_by_the_ends_alone(sheet, head, tail):
    head = min(head, sheet.length - 1)
    tail = min(tail, sheet.length - head - 1)
    change = compare_sheets(sheet, trimmed(sheet, head, tail), head)

    assert change.redo is None
    assert all("frame" in text or "speaks" in text for text in change.told)
    assert marked(change) == {
        frame for frame in range(sheet.length - head - tail) if not 0 <= frame + head < sheet.length
    }


@given(changed_sheets())
def test_each_column_tells_of_all_its_rows_that_differ(sheets):
    before, after, lost = sheets
    both = Aligned(before, after, lost)
    ours, theirs = (dict(by_voice(sheet)) for sheet in (before, after))
    for name in set(ours) & set(theirs):
        for part in PARTS:
            was, now = ([alone(row, part) for row in rows[name]] for rows in (ours, theirs))
            differs = any(was[both.was(frame)] != now[frame] for frame in both.kept_now)

            assert bool(voice_sentences(both, name, was, now)) or not differs


def alone(row, part):
    """A row with one part of it; a turn and a main mark stand on a syllable."""
    kept = ("stress", part) if part in ("tone", "main") else (part,)
    return VoiceRow(row.character, **{name: getattr(row, name) for name in kept})


@given(st.data(), st.integers(1, 25), st.integers(-5, 20), st.integers(1, 25))
def test_the_sentences_of_a_column_cover_every_frame_of_it_that_differs(data, length, lost, now):
    lost = min(lost, length - 1)
    both = Aligned(a_sheet(length=length), a_sheet(length=now), lost)
    texts = ("no", "No!", "Mind", "step")
    before, after = (held(data.draw(columns(texts, size)), size) for size in (length, now))
    covered = set().union(*(one.frames for one in changes_in(both, "BRACK", before, after)[1]))

    differing = {frame for frame in both.kept_now if before[both.was(frame)] != after[frame]}
    assert differing <= covered


@given(sheets(), st.integers(1, 9))
def test_the_first_number_moves_the_numbers_that_are_told_and_nothing_else(sheet, first):
    after = trimmed(sheet, -first)
    here = compare_sheets(sheet, after, -first)
    there = compare_sheets(*(replace(one, first_number=101) for one in (sheet, after)), -first)

    assert replace(there, told=()) == replace(here, told=())
    assert f"what was frame 101 is {101 + first} now" in there.told[0]
