"""What comes back from a worker in place of what it should have done."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Failure:
    """Why a task could not be done, in the user's words."""

    reason: str
