"""The cut of new lists with what people made by hand in the one before it.

A shot made by hand stays, behind all that the lists have, until the lists have its code. What is placed by hand stays
at its frame of the picture of its shot. A remark tells of all that does not stay as it was.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from trackread.core.cut import Cut, Piece, Placement, Remark, Shot, pieces_by_shot, shot_at
from trackread.core.timebase import Frame
from trackread.cutting.by_hand import behind_all
from trackread.cutting.comparing import check_rates, lost_at_head
from trackread.cutting.fitting import fitted, in_order, part_of
from trackread.cutting.heard import play_the_same
from trackread.cutting.words import sound_name


def merged(new: Cut, former: Cut) -> Cut:
    """The cut of new lists with what people made by hand in the former one.

    Raises CutError for cuts that run at two rates.
    """
    check_rates(former, new)
    merging = Merging(new, former)
    merging.take_shots()
    pieces = pieces_by_shot(new)
    placed = [merging.placed(one, pieces) for one in former.placements if one.place.by_hand]
    return replace(
        new,
        shots=(*new.shots, *(shot for shot in merging.shots.values() if shot.place.by_hand)),
        placements=in_order([*new.placements, *(one for one in placed if one)]),
        remarks=(*new.remarks, *dict.fromkeys(merging.remarks)),
    )


@dataclass
class Merging:
    """Two cuts while they are merged; `shots` are those that the former one's are now, by the former one's names."""

    new: Cut
    former: Cut
    shots: dict[str, Shot] = field(default_factory=dict)
    remarks: list[Remark] = field(default_factory=list)

    def take_shots(self) -> None:
        """Finds what each shot of the former cut is now: the lists' of its name, or itself if it is made by hand."""
        lists = {shot.name: shot for shot in self.new.shots}
        first = behind_all(self.new)
        for shot in self.former.shots:
            if now := lists.get(shot.name):
                self.shots[shot.name] = now
                if shot.place.by_hand:
                    told = f"{shot.name} was made by hand ({shot.place}), and the list has it now: taken from the list"
                    self.remarks.append(Remark(now.place, told))
            elif shot.place.by_hand:
                self.shots[shot.name] = replace(shot, first=first)
                first = Frame(first + shot.length)

    def placed(self, one: Placement, pieces: Mapping[str, tuple[Piece, ...]]) -> Placement | None:
        """What is placed by hand where it is now; None with a remark if it is nowhere."""
        was = shot_at(self.former, one.at)
        shot = self.shots.get(was.name) if was else None
        if was is None or shot is None:
            told = f"was placed by hand in {was.name if was else 'no shot'}, which is not in the cut: left out"
            self.remarks.append(Remark(one.place, f"{sound_name(one)} {told}"))
            return None
        moved = fitted(self.with_picture(one, was, shot), shot, self.new.rate, self.remarks)
        return None if moved is None or self.superseded(moved, shot, pieces.get(shot.name, ())) else moved

    def with_picture(self, one: Placement, was: Shot, shot: Shot) -> Placement:
        """What plays in a shot, at the same frame of its picture, which may lie outside of what is left of it."""
        lost = lost_at_head(was, shot, self.new.rate)
        if lost is None:
            told = f"{shot.name} has another picture: what was placed in it by hand stays on the same frames"
            self.remarks.append(Remark(shot.place, told))
        return replace(one, at=Frame(shot.first + one.at - was.first - (lost or 0)))

    def superseded(self, placed: Placement, shot: Shot, pieces: Iterable[Piece]) -> bool:
        """Whether the lists play in a shot any of what is placed in it by hand; a remark tells it."""
        rate = self.new.rate
        for one in pieces:
            theirs = part_of(one.placement, shot.first + one.first, shot.first + one.stop, rate)
            if play_the_same(placed, theirs, rate):
                told = f"{sound_name(placed)} was placed in {shot.name} by hand ({placed.place}), and the list has it"
                self.remarks.append(Remark(theirs.place, f"{told} there now: taken from the list"))
                return True
        return False
