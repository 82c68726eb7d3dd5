"""Two readings beside one another, told in plain words as an animator reads them."""

from collections.abc import Iterator

from trackread.editing.conform import Conformed, Pair, Rest

# A remark stands with a word of the second reading, or after it, in the order of the words of the first.
Order = tuple[int, int, int]


def remarks(conformed: Conformed, *, first: int = 0) -> tuple[str, ...]:
    """All that has changed, in the order of the words; none if nothing has. Frame 0 is called `first`."""
    found: list[tuple[Order, str]] = []
    for pair in conformed.pairs:
        found += [((pair.after.number, 0, 0), text) for text in remarks_on(pair, first)]
    for place, text in conformed.new:
        found.append(((place.number, 0, 0), f"'{text}' is new, on frame {first + place.frame}"))
    for place, text in conformed.gone:
        after = [pair.after.number for pair in conformed.pairs if pair.before.number < place.number]
        order = (after[-1] if after else -1, 1, place.number)
        found.append((order, f"'{text}', which was on frame {first + place.frame}, has gone"))
    return tuple(text for _, text in sorted(found, key=lambda one: one[0]))


def remarks_on(pair: Pair, first: int) -> Iterator[str]:
    """What has changed about one word and the pause before it."""
    if pair.rest is not Rest.SAME:
        came = "has gone" if pair.rest is Rest.GONE else "is new"
        yield f"the pause before '{pair.text}' {came}"
    changes = []
    if pair.shift:
        changes.append(f"what was frame {first + pair.before.frame} is now frame {first + pair.after.frame}")
    if pair.longer:
        count = abs(pair.longer)
        frames = "1 frame" if count == 1 else f"{count} frames"
        changes.append(f"{frames} {'longer' if pair.longer > 0 else 'shorter'}")
    if changes:
        yield f"'{pair.text}': {', '.join(changes)}"
