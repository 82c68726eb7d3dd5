"""What is said on a slate: scene, shot or line, a number or letters, take and its number.

Letters are called by name or by the words of the ICAO spelling alphabet, as recordists do (common practice, no source).
The parts may each be missing but for `take` and its number.
"""

OPENERS = "scene shot slate line roll marker".split()
NUMBERS = (
    "zero oh one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred and"
).split()
LETTERS = (
    "alpha bravo charlie delta echo foxtrot golf hotel india juliet kilo lima mike november oscar papa quebec romeo "
    "sierra tango uniform victor whiskey x-ray yankee zulu"
).split()
TAKE = ("take",)

# The words that may stand at each place, and which of the places may be empty.
PLACES: tuple[tuple[str, ...], ...] = (
    tuple(OPENERS),
    *((*NUMBERS, *LETTERS),) * 4,
    TAKE,
    tuple(NUMBERS),
    tuple(NUMBERS),
)
OPTIONAL = frozenset({0, 1, 2, 3, 4, 7})
