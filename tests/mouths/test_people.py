"""What a plan of mouths must never do, on every line that people spoke for us to have, and on the demo's.

Recordings are those of shared/data (see its README for where they are from); nothing was chosen on any of them. What is
early or late is as ITU-R BT.1359-1 has it; holds are common practice, no source.
"""

import re
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from math import ceil
from pathlib import Path

import numpy as np
import pytest

from trackread.core.mouth import MouthRules, Pace
from trackread.core.phones import PAUSE
from trackread.core.timebase import FrameRate
from trackread.mouths.judging import judged, looked_up
from trackread.mouths.kit_file import read_kit
from trackread.mouths.planning import Scene, plan_of
from trackread.mouths.targets import targets_on, with_pauses
from trackread.reading.sounds import load
from trackread.workflow.mouth_sounds import sounds_said
from trackread.workflow.sheet_said import said_of_take

HERE = Path(__file__).resolve()
DATA = HERE.parents[3] / "shared" / "data"
KITS = HERE.parents[2] / "fixtures" / "late-tram" / "kits"
NOT_SAID = re.compile(r"<[^>]*>|\[[^\]]*\]")
# A take of nothing but a hint.
SAYS_NOTHING = {"mfa_internalsil"}
FILM = FrameRate(Fraction(24))
WAYS = [MouthRules(on=pace, lead=lead) for pace in Pace for lead in (0, 1, 2)]


def takes_in(folder):
    found = [
        (sound, text)
        for text in sorted(folder.rglob("*.txt"))
        for sound in (text.with_suffix(".wav"), text.with_suffix(".flac"))
        if sound.exists() and text.stem not in SAYS_NOTHING
    ]
    assert found, f"{folder} has takes"
    return found


@pytest.fixture(scope="module")
def scenes(reader, tram):
    """Every line with where its sounds are, 24 frames a second."""
    readings = [reader.read(recording, line) for recording, line in tram.values()]
    for folder in (DATA / "labelled", DATA / "acted" / "sdap", DATA / "acted" / "vocal"):
        for sound, text in takes_in(folder):
            line = NOT_SAID.sub("", text.read_text(encoding="utf-8")).strip()
            readings.append(reader.read(load(sound), line))
    return [scene_of(reading) for reading in readings]


def scene_of(reading):
    said = said_of_take(reading, FILM)
    return Scene(sounds_said([said], said.heard), range(len(said.heard)), FILM)


@pytest.fixture(scope="module", params=["brack", "miss-pell", "tum"])
def kit(request):
    return read_kit((KITS / f"{request.param}.toml").read_text(encoding="utf-8"), request.param)


@pytest.fixture(scope="module")
def plans(scenes):
    """The plans of all lines with a kit by some rules, each made once."""
    return lru_cache(maxsize=None)(lambda kit, rules: [plan_of(kit, scene, rules) for scene in scenes])


def test_there_are_lines_enough_to_say_never(scenes):
    heard = [sound.symbol for scene in scenes for sound in scene.sounds]

    assert len(scenes) > 120
    assert sum(symbol in "PBM" for symbol in heard) > 150
    assert sum(symbol in "FV" for symbol in heard) > 80


@pytest.mark.parametrize("rules", WAYS, ids=lambda rules: f"{rules.on.value} lead {rules.lead}")
def test_no_closure_is_open_no_bite_is_missed_and_nothing_is_a_flash_or_late(scenes, plans, kit, rules):
    """`judged` counts what is seen no more than 3 frames early and no more than one late, and held."""
    made = zip(scenes, plans(kit, rules), strict=True)
    figures = [judged(kit, scene, rules, plan.worn) for scene, plan in made]

    assert all(one.closed == one.held == one.closures for one in figures)
    assert all(one.bitten == one.bites for one in figures)
    assert not any(one.flashes for one in figures)


@pytest.mark.parametrize("rules", WAYS, ids=lambda rules: f"{rules.on.value} lead {rules.lead}")
def test_after_a_long_pause_no_mouth_is_put_on_more_than_three_frames_before_the_next_sound(scenes, plans, kit, rules):
    """125 ms, ITU-R BT.1359-1; before that it is at rest, whatever the pause is made of."""
    for scene, plan in zip(scenes, plans(kit, rules), strict=True):
        worn = plan.worn
        names = [one.mouth for one in worn for _ in range(one.first, one.stop)]
        for pause in with_pauses(scene.sounds, scene.frames)[:-1]:
            soonest = ceil(pause.stop) - rules.early - 1
            if pause.symbol == PAUSE and pause.stop - pause.start >= 12 and pause.start < soonest < len(names):
                assert names[soonest] == kit.rest


@pytest.mark.parametrize("lead", [0, 1, 2])
def test_no_plan_as_a_whole_is_behind_what_is_said(scenes, plans, kit, lead):
    """The plan is nearest to what is said `lead` frames later, give or take the one frame of twos."""
    rules = MouthRules(lead=lead)
    shifts = range(-3, 6)
    far = dict.fromkeys(shifts, 0.0)
    for scene, plan in zip(scenes, plans(kit, rules), strict=True):
        worn = plan.worn
        opening = np.array([kit.mouth(one.mouth).face.opening for one in worn for _ in range(one.first, one.stop)])
        for shift in shifts:
            frames = range(scene.frames.start + shift, scene.frames.stop + shift)
            far[shift] += float(((targets_on(scene.sounds, frames, FILM)[:, 0] - opening) ** 2).sum())

    assert min(shifts, key=far.__getitem__) in (lead, lead + 1)


@pytest.mark.parametrize("pace", list(Pace))
def test_a_plan_is_nearer_to_the_face_than_looking_mouths_up_and_flutters_less(scenes, plans, kit, pace):
    rules = MouthRules(on=pace)
    made = [judged(kit, scene, rules, one.worn) for scene, one in zip(scenes, plans(kit, rules), strict=True)]
    plain = [judged(kit, scene, replace(rules, lead=0), looked_up(kit, scene)) for scene in scenes]

    assert sum(one.distance for one in made) < sum(one.distance for one in plain)
    assert sum(one.changes for one in made) < sum(one.changes for one in plain)
    assert sum(one.held for one in made) > sum(one.held for one in plain)


def test_on_twos_no_mouth_of_any_line_changes_off_the_beat_but_for_lips(scenes, plans, kit):
    for scene, plan in zip(scenes, plans(kit, MouthRules(on=Pace.TWOS)), strict=True):
        changes = [other for one, other in pairwise(plan.worn) if other.first % 2]

        assert len(changes) == plan.off_beat
        lips = [sound.start for sound in scene.sounds if sound.symbol in "PBMFV"]
        assert all(any(abs(start - change.first) <= 4 for start in lips) for change in changes)
