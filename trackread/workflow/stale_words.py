"""Stale sheets in words: from which frame, whether that is shot, why, and what it costs."""

from trackread.workflow.counted import counted
from trackread.workflow.shot_work import days_told
from trackread.workflow.stale import Cost, StaleSheet


def state_text(one: StaleSheet) -> str:
    """How a sheet is no longer what would be printed."""
    return "gone from the film" if one.gone else f"stale from frame {one.first}"


def done_text(one: StaleSheet) -> str:
    """Whether the change meets what is shot already."""
    if not one.done:
        return "nothing of it is shot yet, as far as is told"
    where = "among them" if one.is_shot else "behind them"
    return f"{counted(one.done, 'frame')} of it shot, the first frame that changes {where}"


def cost_text(cost: Cost) -> str:
    """What it costs, in frames and days."""
    told = [f"{counted(cost.again, 'frame')} to shoot again"]
    told += [f"{counted(cost.more, 'frame')} more to shoot"] if cost.more else []
    told += [f"{counted(cost.lost, 'frame')} shot in vain"] if cost.lost else []
    return f"{', '.join(told)}; {days_told(cost.days)} animator-days"
