"""The papers a sheet is printed on, and the size of type that each can carry: facts as tables.

Lengths are points of 1/72 inch. What is read while animating has capitals of 16 minutes of arc at the least
(ISO 9241-3): in DejaVu Sans 13 pt seen from 0.7 m, 18.5 pt from a metre.
"""

from dataclasses import dataclass

from trackread.errors import SheetError

MILLIMETRE = 72 / 25.4

# Width and height in millimetres: ISO 216, and the North American sizes.
PAPERS: dict[str, tuple[float, float]] = {
    "A4": (210.0, 297.0),
    "Letter": (215.9, 279.4),
    "A3": (297.0, 420.0),
    "Tabloid": (279.4, 431.8),
}

# 48 rows are two seconds at 24 a second, a good day's work.
TYPE_SIZES: dict[tuple[str, int], float] = {
    ("A4", 48): 13.0,
    ("Letter", 48): 13.0,
    ("A4", 24): 18.5,
    ("Letter", 24): 18.5,
    ("A3", 48): 18.5,
    ("Tabloid", 48): 18.5,
    # Twice the floor's distance would need 37 pt, for which the width has no room; 24 pt reads well at 1 m.
    ("A3", 24): 24.0,
    ("Tabloid", 24): 24.0,
}


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper with its rows; `type_size` is that of everything read while animating."""

    name: str
    width: float
    height: float
    rows: int
    type_size: float


@dataclass(frozen=True, slots=True)
class Frame:
    """The part of a page that is printed on, and its type size."""

    left: float
    top: float
    right: float
    bottom: float
    em: float


def paper_for(name: str, rows: int) -> Paper:
    """The paper called `name` with so many rows. Raises SheetError if there is none."""
    if name not in PAPERS:
        raise SheetError(f"{name!r} is not a paper for sheets: use one of {', '.join(PAPERS)}")
    if (name, rows) not in TYPE_SIZES:
        counts = " or ".join(str(count) for paper, count in TYPE_SIZES if paper == name)
        raise SheetError(f"a sheet on {name} has {counts} rows, not {rows}")
    width, height = PAPERS[name]
    return Paper(name, width * MILLIMETRE, height * MILLIMETRE, rows, TYPE_SIZES[name, rows])
