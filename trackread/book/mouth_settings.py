"""The table [mouths] of production.toml: how puppets wear their mouths."""

from dataclasses import fields
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, field_validator, model_validator
from pydantic_core import PydanticCustomError

from trackread.core.mouth import USUAL, MouthRules, Pace
from trackread.core.toml_text import quoted

PACES = tuple(pace.value for pace in Pace)

Count = Annotated[int, Field(ge=0)]
Hold = Annotated[int, Field(ge=1)]


def wrong(message: str) -> PydanticCustomError:
    return PydanticCustomError("told", "{told}", {"told": message})


class MouthSettings(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)

    on: str = USUAL.on.value
    lead: Count = USUAL.lead
    early: Count = USUAL.early
    late: Count = USUAL.late
    closed_hold: Hold = USUAL.closed_hold
    bite_hold: Hold = USUAL.bite_hold
    hold: Hold = USUAL.hold
    short_pause: Count = USUAL.short_pause
    long_pause: Count = USUAL.long_pause
    least_ease: Count = USUAL.least_ease
    most_ease: Count = USUAL.most_ease
    pictures: bool = True

    @field_validator("on")
    @classmethod
    def known_pace(cls, name: str) -> str:
        if name.strip().lower() not in PACES:
            raise wrong(f"must be one of {', '.join(PACES)}, not {name!r}")
        return name.strip().lower()

    @model_validator(mode="after")
    def in_order(self) -> "MouthSettings":
        for less, more in (("lead", "early"), ("short_pause", "long_pause"), ("least_ease", "most_ease")):
            if getattr(self, less) > getattr(self, more):
                raise wrong(f"{less} must be no more than {more}, not {getattr(self, less)} and {getattr(self, more)}")
        return self

    @property
    def rules(self) -> MouthRules:
        counts = {field.name: getattr(self, field.name) for field in fields(MouthRules) if field.name != "on"}
        return MouthRules(on=Pace(self.on), **counts)


def mouths_text(rules: MouthRules, *, pictures: bool) -> str:
    """The table as TOML, with remarks that say what each key means."""
    return (
        "# How puppets wear their mouths, in frames. On what they change: ones, twos, or mixed (twos, ones in fast\n"
        "# speech). By how much a mouth leads its sound, and how early or late it may be where it must; for how long\n"
        "# closed lips, teeth on the lip and any mouth are held at least. In a pause shorter than short_pause a mouth\n"
        "# does not go to rest, in one of long_pause it does, with an ease into it and out of it. Whether sheets show\n"
        "# pictures of mouths.\n"
        "[mouths]\n"
        f"on = {quoted(rules.on.value)}\nlead = {rules.lead}\nearly = {rules.early}\nlate = {rules.late}\n"
        f"closed_hold = {rules.closed_hold}\nbite_hold = {rules.bite_hold}\nhold = {rules.hold}\n"
        f"short_pause = {rules.short_pause}\nlong_pause = {rules.long_pause}\n"
        f"least_ease = {rules.least_ease}\nmost_ease = {rules.most_ease}\npictures = {str(pictures).lower()}\n\n"
    )
