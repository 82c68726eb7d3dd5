"""Sheets of our own production *The Late Tram* for tests, and to be looked at.

`python -m tests.sheets.examples FOLDER` draws them all as PDF into FOLDER.
"""

import sys
from pathlib import Path

from tests.sheets.boards import board_of
from tests.sheets.mouths import dressed
from tests.sheets.shots import SHOTS, crowd_shot, moving_camera
from tests.sheets.voices import (
    CROWD,
    acted,
    acted_brack,
    acted_crowd,
    crowded_in_turn,
    many_voices,
    two_voices,
    warned,
)
from trackread.core.sheet import Sheet
from trackread.sheets.counts import count_for
from trackread.sheets.paper import paper_for
from trackread.sheets.pdf import draw_sheet

# Each example with its paper, rows, and way of counting.
EXAMPLES: dict[str, tuple[Sheet, str, int, str]] = {
    "two": (two_voices(), "A4", 48, "footage35"),
    "two-letter-warned": (warned(), "Letter", 48, "timecode"),
    "two-25-tabloid": (two_voices("25", first_number=1001), "Tabloid", 48, "timecode"),
    "three": (many_voices(CROWD[:3]), "A4", 48, "footage35"),
    "four": (many_voices(CROWD[:4]), "A4", 48, "footage16"),
    "six": (many_voices(CROWD), "A4", 48, "footage35"),
    "two-of-six": (crowded_in_turn(), "A4", 48, "footage35"),
    "one-24-rows": (two_voices(voices=two_voices().voices[:1]), "A4", 24, "footage35"),
    "two-24-rows": (two_voices(), "Letter", 24, "none"),
    "two-a3": (two_voices(), "A3", 48, "footage35"),
    "one-a3-24-rows": (two_voices(voices=two_voices().voices[1:]), "A3", 24, "timecode"),
    "one": (two_voices(voices=two_voices().voices[:1]), "A4", 48, "none"),
    "none": (two_voices(voices=()), "A4", 48, "footage35"),
    "acted-one": (acted(acted_brack()), "A4", 48, "none"),
    "acted-two": (acted(), "A4", 48, "footage35"),
    "acted-two-letter": (acted(), "Letter", 48, "timecode"),
    "acted-four": (acted_crowd(4), "A4", 48, "footage16"),
    "acted-six": (acted_crowd(6), "A4", 48, "footage35"),
    "acted-one-24-rows": (acted(acted_brack()), "A4", 24, "footage35"),
    "acted-two-tabloid": (acted(), "Tabloid", 48, "timecode"),
    **SHOTS,
    "worn-one": (dressed(two_voices(voices=two_voices().voices[:1])), "A4", 48, "none"),
    "worn-one-24-rows": (dressed(acted(acted_brack())), "A4", 24, "footage35"),
    "worn-two": (dressed(acted()), "A4", 48, "footage35"),
    "worn-two-letter-24-rows": (dressed(acted()), "Letter", 24, "timecode"),
    "worn-three-letter": (dressed(many_voices(CROWD[:3])), "Letter", 48, "footage35"),
    "worn-four": (dressed(many_voices(CROWD[:4])), "A4", 48, "footage16"),
    "worn-five": (dressed(many_voices(CROWD[:5])), "A4", 48, "footage35"),
    "worn-six": (dressed(acted_crowd(6)), "A4", 48, "footage35"),
    "worn-six-letter": (dressed(many_voices(CROWD)), "Letter", 48, "none"),
    "worn-two-of-six": (dressed(crowded_in_turn()), "A4", 48, "footage35"),
    "worn-shot-six": (dressed(crowd_shot(300)), "A4", 48, "footage35"),
    "worn-shot-moving": (dressed(moving_camera()), "A4", 48, "footage35"),
    "worn-two-tabloid": (dressed(two_voices()), "Tabloid", 48, "footage35"),
}


def main() -> None:
    """Draws the examples into the folder that is named."""
    for name, (sheet, paper, rows, count) in EXAMPLES.items():
        form, counted = paper_for(paper, rows), count_for(count, sheet.rate)
        content = draw_sheet(sheet, form, count=counted, board=board_of(sheet))
        (Path(sys.argv[1]) / f"{name}.pdf").write_bytes(content)


if __name__ == "__main__":
    main()
