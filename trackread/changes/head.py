"""What has changed in the head of a sheet and at the ends of its shot, in sentences."""

from collections.abc import Iterator, Sequence

from trackread.changes.aligned import Aligned
from trackread.changes.words import listed
from trackread.core.sheet import Voice


def head_sentences(both: Aligned, *, picture_known: bool) -> Iterator[str]:
    """What the head says otherwise than before that is of the whole shot."""
    if not picture_known:
        yield "the shot has another picture: what is told of its rows compares those of the same number"
    before, after = both.before.heading, both.after.heading
    yield from exchanged(("listens", "listen"), before.listeners, after.listeners)
    if before.about != after.about:
        told = f"is “{after.about}” now" if after.about else "is no longer told"
        yield f"what happens in the shot {told}"
    if before.board != after.board:
        yield board_told(before.board, after.board)
    if bool(both.before.positions) != bool(both.after.positions):
        yield f"the camera's positions are {'on it now' if both.after.positions else 'no longer on it'}"
    if before.warning != after.warning:
        yield f"the warning over it is now: {after.warning}" if after.warning else "the warning over it is gone"
    if both.before.first_number != both.after.first_number:
        yield f"frames are numbered from {both.after.first_number} now, before from {both.before.first_number}"
    if both.before.rate != both.after.rate:
        yield f"it runs at {both.after.rate.name} now, before at {both.before.rate.name}"


def heard_sentences(both: Aligned) -> Iterator[str]:
    """Who speaks and which takes are heard now, and who and which no more: from what row on, the rows tell."""
    yield from exchanged(("speaks", "speak"), names_of(both.before.voices), names_of(both.after.voices))
    yield from exchanged(
        ("is heard", "are heard"), takes_of(both.before.heading.take), takes_of(both.after.heading.take)
    )


def end_sentences(both: Aligned) -> Iterator[str]:
    """How the head and the end of the shot have moved."""
    lost, tail = both.lost, both.tail
    if lost > 0:
        was = f"what was frame {both.number_before(lost)} is {both.number_after(0)} now"
        yield f"{counted(lost)} cut off its head: {was}"
    elif lost < 0:
        was = f"what was frame {both.number_before(0)} is {both.number_after(-lost)} now"
        yield f"{counted(-lost)} more at its head: {was}"
    if tail:
        last = both.number_after(both.after.length - 1)
        yield f"{counted(abs(tail))} {'more' if tail > 0 else 'fewer'} at its end: its last frame is {last} now"


def board_told(before: str, after: str) -> str:
    if not after:
        return "there is no board any more"
    return "the board is another" if before else "there is a board now"


def exchanged(verbs: tuple[str, str], before: Sequence[str], after: Sequence[str]) -> Iterator[str]:
    """Who or what is new on a list, and who has gone from it; `verbs` are what one does, and what several do."""
    new = [name for name in after if name not in before]
    gone = [name for name in before if name not in after]
    if new:
        place = f" in place of {listed(gone)}" if gone else ""
        yield f"{listed(new)} {verbs[len(new) > 1]} now{place}"
    elif gone:
        yield f"{listed(gone)} {verbs[len(gone) > 1]} no more"


def names_of(voices: Sequence[Voice]) -> list[str]:
    return [voice.character for voice in voices]


def takes_of(text: str) -> list[str]:
    return [name for name in text.split(", ") if name]


def counted(frames: int) -> str:
    return f"{frames} frame{'s' * (frames != 1)}"
