"""The engines that a command reads with, loaded only when one is run."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from trackread.workflow.read_take import Reader

OpenReader = Callable[[Path | None], "Reader"]


def open_reader(pronunciations: Path | None) -> Reader:
    """A reader that knows the production's own pronunciations. Raises LexiconError with all that is wrong in them."""
    from trackread.workflow.read_take import open_reader as open_engines

    return open_engines(pronunciations)
