"""Kits of our own: a jaw that only opens, and plain mouths for a puppet maker to start from."""

from trackread.core.mouth import Face, Kit, Mouth

LEAST_STEPS, MOST_STEPS = 2, 20  # more are no longer told apart

# They say every sound; no two would be taken for one another across a table.
STARTING = (
    Mouth("lips shut", Face(), copies=2),
    Mouth("teeth on lip", Face(opening=0.08, bite=1.0)),
    Mouth("tongue out", Face(opening=0.2, tongue=1.0)),
    Mouth("teeth together", Face(opening=0.1, width=0.68)),
    Mouth("lips pushed out", Face(opening=0.15, rounding=0.65)),
    Mouth("a little open", Face(opening=0.26, tongue=0.2)),
    Mouth("smiling", Face(opening=0.28, width=0.8)),
    Mouth("half open", Face(opening=0.57, width=0.6)),
    Mouth("wide open", Face(opening=0.85)),
    Mouth("small and round", Face(opening=0.2, width=0.18, rounding=0.9)),
    Mouth("large and round", Face(opening=0.55, width=0.33, rounding=0.55)),
)


def jaw_kit(name: str, character: str, steps: int) -> Kit:
    """The kit of a jaw that opens evenly in so many steps, of which the first is shut."""
    wide = steps - 1
    between = (f"jaw open {step} of {wide}" for step in range(1, wide))
    names = ("jaw shut", *between, "jaw wide")
    mouths = tuple(Mouth(said, Face(opening=step / wide)) for step, said in enumerate(names))
    return Kit(name, character, mouths, mouths[0].name, steps)


def starting_kit(name: str, character: str) -> Kit:
    """A kit of plain mouths that can speak, to be changed."""
    return Kit(name, character, STARTING, STARTING[0].name)
