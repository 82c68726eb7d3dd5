"""Which shots are meant, and how a production wants their sheets."""

from dataclasses import dataclass

from trackread.core.production import Production
from trackread.cutting.by_hand import find_shot
from trackread.errors import CutError
from trackread.workflow.material import Material
from trackread.workflow.sheet_of_take import terms_of
from trackread.workflow.shot_brief import ShotBrief, brief_of
from trackread.workflow.shot_sheet import SheetWish


@dataclass(frozen=True, slots=True)
class Choice:
    """Which shots are meant: by their names, all of a scene, or all; None and () for what is not asked."""

    names: tuple[str, ...] = ()
    scene: str | None = None
    every: bool = False


def chosen_briefs(material: Material, choice: Choice) -> list[ShotBrief]:
    """The briefs of the shots that are meant, in the order of the cut, each once.

    Raises CutError for a shot or scene that there is none of, or if nothing is asked for.
    """
    if choice.every:
        return [brief_of(material, shot) for shot in material.cut.shots]
    wanted = {find_shot(material.cut, name).name for name in choice.names}
    if choice.scene is None:
        if not wanted:
            raise CutError("say which shots: by their codes, with --scene, or --all")
        return [brief_of(material, shot) for shot in material.cut.shots if shot.name in wanted]
    briefs = [brief_of(material, shot) for shot in material.cut.shots]
    scene = choice.scene.strip().casefold()
    found = [brief for brief in briefs if brief.scene.casefold() == scene or brief.shot.name in wanted]
    if not any(brief.scene.casefold() == scene for brief in found):
        scenes = list(dict.fromkeys(brief.scene for brief in briefs if brief.scene))
        raise CutError(f"no shot is in scene {choice.scene}: there are {', '.join(scenes) or 'no scenes'}")
    return found


def sheet_wish(production: Production) -> SheetWish:
    """How a production's settings want its sheets."""
    return SheetWish(terms_of(production), production.title, production.mouths)
