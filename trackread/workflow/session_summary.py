"""What became of a session that was brought in, in sentences."""

from collections import Counter
from collections.abc import Iterator

from trackread.core.session import StretchKind, Wholeness
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
    if unsure := kinds[StretchKind.UNSURE]:
        yield (
            f"{counted(unsure, 'stretch', 'stretches')} for you to decide: see `trackread takes --unsure`, "
            "then `trackread assign`."
        )
    if not outcome.takes:
        yield "Nobody speaks in it."
