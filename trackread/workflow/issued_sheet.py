"""An issue's sheet as it was frozen: the sheet itself, the shot as it was, and the cut it was made from."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import cast

from trackread.core.cut import Shot
from trackread.core.plain_cut import shot_from_plain, shot_to_plain
from trackread.core.plain_sheet import sheet_from_plain
from trackread.core.sheet import Sheet
from trackread.core.timebase import Frame
from trackread.cutting.comparing import lost_at_head


@dataclass(frozen=True, slots=True)
class IssuedSheet:
    """A sheet that is out, its shot as it was then, and the number of the cut."""

    sheet: Sheet
    shot: Shot
    cut: int

    def head_lost(self, now: Shot) -> Frame | None:
        """How many frames the shot's head has lost since; None where its picture is another, so nobody can tell."""
        return lost_at_head(self.shot, now, self.sheet.rate)


def frozen_sheet(plain: Mapping[str, object], shot: Shot, cut: int) -> dict[str, object]:
    """A sheet frozen, as plain values; `plain` is what `sheet_to_plain` made of it."""
    return {"sheet": plain, "shot": shot_to_plain(shot), "cut": cut}


def issued_sheet(plain: Mapping[str, object]) -> IssuedSheet:
    """What `frozen_sheet` froze. Raises SheetError or CutError if it is none."""
    sheet = sheet_from_plain(cast(Mapping[str, object], plain["sheet"]))
    return IssuedSheet(sheet, shot_from_plain(cast(Mapping[str, object], plain["shot"])), cast(int, plain["cut"]))
