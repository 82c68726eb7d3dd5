"""What became of a session that was brought in, in sentences."""

from collections import Counter
from collections.abc import Iterator

from trackread.core.session import RecorderNotes, StretchKind, Wholeness
from trackread.workflow.counted import counted
from trackread.workflow.session_work import Outcome


def summary(outcome: Outcome) -> Iterator[str]:
    """What became of a session, in sentences."""
    kinds = Counter(take.kind for take in outcome.takes)
    found = [take for take in outcome.takes if take.kind is StretchKind.TAKE]
    cut = sum(take.wholeness is Wholeness.CUT_OFF for take in found)
    lines = len({take.line for take in found})
    yield (
        f"S{outcome.session.id}, {outcome.session.name}: {counted(len(found), 'take')} of {counted(lines, 'line')}, "
        f"{cut} of them cut off; {counted(kinds[StretchKind.SLATE], 'slate')}, "
        f"{kinds[StretchKind.CHATTER]} times other talk."
    )
    if noted := recorder_says(outcome.session.notes):
        yield f"The recorder noted: {noted}."
    if unsure := kinds[StretchKind.UNSURE]:
        yield (
            f"{counted(unsure, 'stretch', 'stretches')} for you to decide: see `trackread takes --unsure`, "
            "then `trackread assign`."
        )
    if not outcome.takes:
        yield "Nobody speaks in it."


def recorder_says(notes: RecorderNotes) -> str:
    """What the recorder wrote of scene, take and tape, and whether it is circled, in a row; "" if nothing."""
    named = {"scene": notes.scene, "take": notes.take, "tape": notes.tape, "note": notes.note}
    said = [f"{name} {value}" for name, value in named.items() if value]
    return ", ".join([*said, *(["circled"] if notes.circled else [])])
