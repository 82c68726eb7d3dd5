"""Films of The Late Tram: two or more of its characters, with plans of mouths made up for the purpose."""

from functools import cache
from itertools import accumulate, pairwise
from pathlib import Path
from random import Random

from trackread.core.mouth import Worn
from trackread.core.sheet import Beat, Cell
from trackread.core.timebase import Frame, parse_rate
from trackread.film.film import Film, FilmVoice
from trackread.mouths.drawing import drawing_of
from trackread.mouths.kit_file import read_kit

KITS = Path(__file__).resolve().parents[2] / "fixtures" / "late-tram" / "kits"
PUPPETS = {"brack": "BRACK", "miss-pell": "MISS PELL", "tum": "TUM"}
SAID = "Hold tight please ladies and gentlemen the forty two goes no further than the depot".split()


@cache
def looks_of(puppet):
    kit = read_kit((KITS / f"{puppet}.toml").read_text(encoding="utf-8"), puppet)
    return {mouth.name: drawing_of(mouth.face) for mouth in kit.mouths}


def worn_at_random(looks, length, seed=0):
    """Every mouth of a kit, held for one to four frames, never the same twice on end, some of them pinned."""
    chance = Random(seed)
    edges = [0, *(edge for edge in accumulate(chance.choices((1, 2, 3, 4), k=length)) if edge < length), length]
    names = list(looks)
    places = list(accumulate(chance.choices(range(1, len(names)), k=len(edges))))
    spans = enumerate(pairwise(edges))
    return tuple(
        Worn(names[places[k] % len(names)], Frame(first), Frame(stop), pinned=k % 5 == 3) for k, (first, stop) in spans
    )


def words_over(length, *, each=7, start=3):
    firsts = range(start, length - each, each + 1)
    return tuple(Cell(Frame(k), Frame(k + each), SAID[n % len(SAID)]) for n, k in enumerate(firsts))


def beats_over(words):
    return tuple(Beat(word.first, word.stop, n % 3, main=n % 6 == 2) for n, word in enumerate(words))


def a_voice(puppet="brack", length=48, *, seed=0):
    looks, words = looks_of(puppet), words_over(length, start=3 + 2 * seed)
    return FilmVoice(PUPPETS[puppet], looks, worn_at_random(looks, length, seed), words, beats_over(words))


def a_silent_voice(puppet, length=48):
    looks = looks_of(puppet)
    return FilmVoice(PUPPETS[puppet], looks, (Worn(next(iter(looks)), Frame(0), Frame(length)),))


def a_film(*voices, length=48, rate="24", first_number=1):
    told = voices or (a_voice("brack", length), a_voice("miss-pell", length, seed=1))
    titles = ("Shot 030", "The Late Tram", "Unit 4 · issue 3")
    return Film(titles, parse_rate(rate), Frame(length), first_number, told)
