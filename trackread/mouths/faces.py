"""The face that each sound asks for, and how strongly it asks for each part of it: facts as tables.

Parts come in the order of `trackread.core.mouth.PARTS`: opening, width, rounding, bite, tongue. Which sounds open,
round, spread, close, bite and show the tongue is told by textbooks of phonetics (Ladefoged & Johnson, A Course in
Phonetics; IPA Handbook), which sounds look alike by Jeffers & Barley 1971 and Owens & Blazek 1985; nobody has measured
these parts on a scale from 0 to 1, so the numbers are our own. A face is that of a loud voice in a strong syllable.

How strongly a part is asked for follows the dominance of Cohen & Massaro 1993 (Modeling coarticulation in synthetic
visual speech): a strength, and a rate, per millisecond, at which it fades ahead of the sound and after it. Theirs were
set by eye, and so are these: only how they compare with one another says anything.
"""

from trackread.core.mouth import Face
from trackread.core.phones import PAUSE

Five = tuple[float, float, float, float, float]

SHUT = Face()
PUSHED_OUT = Face(opening=0.15, width=0.52, rounding=0.65)  # teeth together, lips forward and square
TEETH_TOGETHER = Face(opening=0.08, width=0.65)
ON_THE_LIP = Face(opening=0.1, width=0.52, bite=1.0)
BETWEEN_TEETH = Face(opening=0.2, width=0.52, tongue=1.0)
BEHIND_TEETH = Face(opening=0.2, width=0.52, tongue=0.3)
AT_THE_BACK = Face(opening=0.25)  # made where nobody sees it

# Of a diphthong, the face that it begins with.
FACES: dict[str, Face] = {
    # The lower a vowel stands in the chart of the IPA, the wider the mouth; front ones are spread, back ones rounded.
    "AA": Face(opening=0.85, rounding=0.05),
    "AE": Face(opening=0.7, width=0.66),
    "AH": Face(opening=0.55),
    "AO": Face(opening=0.65, width=0.35, rounding=0.5),
    "AW": Face(opening=0.85, rounding=0.05),
    "AY": Face(opening=0.85, width=0.55),
    "EH": Face(opening=0.55, width=0.65),
    "ER": Face(opening=0.35, width=0.38, rounding=0.4),
    "EY": Face(opening=0.48, width=0.7),
    "IH": Face(opening=0.32, width=0.7),
    "IY": Face(opening=0.24, width=0.82),
    "OW": Face(opening=0.5, width=0.3, rounding=0.7),
    "OY": Face(opening=0.65, width=0.35, rounding=0.5),
    "UH": Face(opening=0.28, width=0.25, rounding=0.75),
    "UW": Face(opening=0.2, width=0.18, rounding=0.92),
    **dict.fromkeys(("P", "B", "M"), SHUT),
    **dict.fromkeys(("F", "V"), ON_THE_LIP),
    **dict.fromkeys(("TH", "DH"), BETWEEN_TEETH),
    **dict.fromkeys(("T", "D", "N"), BEHIND_TEETH),
    **dict.fromkeys(("K", "G", "NG"), AT_THE_BACK),
    **dict.fromkeys(("S", "Z"), TEETH_TOGETHER),
    **dict.fromkeys(("CH", "JH", "SH", "ZH"), PUSHED_OUT),
    "HH": Face(opening=0.4),  # of no shape of its own: see `TAKES_THE_NEXT`
    "L": Face(opening=0.35, width=0.52, tongue=0.6),
    "R": Face(opening=0.28, width=0.34, rounding=0.5),
    "W": Face(opening=0.12, width=0.12, rounding=1.0),
    "Y": Face(opening=0.24, width=0.76),
    PAUSE: SHUT,
}

# The face that a diphthong ends with: the second vowel of its IPA, not quite reached.
GLIDES: dict[str, Face] = {
    "AW": Face(opening=0.35, width=0.3, rounding=0.65),
    "AY": Face(opening=0.38, width=0.68),
    "EY": Face(opening=0.3, width=0.78),
    "OW": Face(opening=0.28, width=0.22, rounding=0.85),
    "OY": Face(opening=0.35, width=0.68),
}

# No visible shape: it has the face of what follows (Jeffers & Barley 1971, by way of Gillen's thesis on TCD-TIMIT).
TAKES_THE_NEXT = "HH"

CLOSING: Five = (1.0, 0.1, 0.1, 1.0, 0.5)
BITING: Five = (0.8, 0.15, 0.1, 1.0, 0.5)
ROUND: Five = (0.2, 0.8, 1.0, 0.3, 0.3)
SPREAD: Five = (0.2, 0.6, 0.5, 0.3, 0.3)
OPEN: Five = (0.3, 0.3, 0.3, 0.3, 0.3)

# Weak: takes much of what stands beside it. A closure is hardly moved; a wide-open vowel is asked for more than others.
STRENGTHS: dict[str, Five] = {
    **dict.fromkeys(("AA", "AE", "AW", "AY"), OPEN),
    **dict.fromkeys(("EY", "IH", "IY", "Y"), SPREAD),
    **dict.fromkeys(("AO", "OW", "OY", "UH", "UW", "W"), ROUND),
    "AH": (0.15, 0.15, 0.15, 0.3, 0.3),  # mostly the weak vowel, which goes with its neighbours
    "EH": (0.2, 0.3, 0.3, 0.3, 0.3),
    "ER": (0.2, 0.4, 0.5, 0.3, 0.3),
    **dict.fromkeys(("P", "B", "M"), CLOSING),
    **dict.fromkeys(("F", "V"), BITING),
    **dict.fromkeys(("TH", "DH"), (0.15, 0.1, 0.08, 0.3, 1.0)),
    **dict.fromkeys(("T", "D", "N"), (0.05, 0.05, 0.05, 0.3, 0.3)),
    **dict.fromkeys(("K", "G", "NG"), (0.04, 0.05, 0.05, 0.3, 0.1)),
    **dict.fromkeys(("S", "Z"), (0.2, 0.15, 0.1, 0.3, 0.3)),  # the teeth must meet, the lips may do as they like
    **dict.fromkeys(("CH", "JH", "SH", "ZH"), (0.2, 0.5, 0.6, 0.3, 0.3)),
    "HH": (0.03, 0.03, 0.03, 0.1, 0.1),
    "L": (0.08, 0.05, 0.05, 0.3, 0.6),
    "R": (0.1, 0.4, 0.5, 0.3, 0.3),
    # So weak in opening that a mouth takes 2 to 4 frames of film to ease shut, and in 5 does not get there.
    PAUSE: (0.002, 0.15, 0.2, 0.2, 0.2),
}
# Of a pause in which the mouth has come to rest: it opens a frame or two before the next sound, and not all the while.
SETTLED: Five = (0.06, 0.15, 0.2, 0.2, 0.2)

# Lips are pushed out early and come back sooner; all else fades alike on both sides.
FADING_AHEAD: Five = (0.04, 0.02, 0.012, 0.05, 0.04)
FADING_AFTER: Five = (0.04, 0.02, 0.02, 0.05, 0.04)
QUICK = frozenset({"P", "B", "M", "F", "V"})  # lips that meet something part from it at once
QUICK_OPENING = 0.06


def faces_of(symbol: str) -> tuple[Face, ...]:
    """The face of a sound, and a second if it glides to another. Raises KeyError for what is no phone."""
    glide = GLIDES.get(symbol)
    return (FACES[symbol],) if glide is None else (FACES[symbol], glide)


def fading(symbol: str) -> tuple[Five, Five]:
    """How fast a sound's strength in each part fades, per millisecond: ahead of it and after it."""
    if symbol in QUICK:
        return (QUICK_OPENING, *FADING_AHEAD[1:]), (QUICK_OPENING, *FADING_AFTER[1:])
    return FADING_AHEAD, FADING_AFTER
