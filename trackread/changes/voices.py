"""What has changed in what a character says, in sentences: words first, then how they are said."""

from collections.abc import Iterator, Sequence

from trackread.changes.aligned import Aligned
from trackread.changes.words import Matched, bare, cell_sentences, matched
from trackread.core.correction import DEGREES
from trackread.core.sheet import Beat, Cell, Voice

Beats = list[tuple[int, str, str, bool]]


def voice_sentences(both: Aligned) -> Iterator[str]:
    """What has changed in every voice of either sheet; who is new or has gone is told by the head."""
    before = {voice.character: voice for voice in both.before.voices}
    after = {voice.character: voice for voice in both.after.voices}
    for name in dict.fromkeys([*before, *after]):
        was, now = before.get(name), after.get(name)
        if was and now:
            yield from changed_voice(both, was, now)
        elif now:
            yield (
                f"{name}: says {quoted(now.words)}, from {both.number_after(now.words[0].first)}" if now.words else name
            )
        elif was and was.words:
            yield f"{name}: no longer says {quoted(was.words)}"


def changed_voice(both: Aligned, was: Voice, now: Voice) -> Iterator[str]:
    """What has changed in a voice that both sheets have."""
    name = now.character
    yield from cell_sentences(both, name, was.words, now.words)
    yield from manner_of_words(both, name, (was, now), matched(both, was.words, now.words))
    for ours, theirs in ((was.events, now.events), (was.manners, now.manners)):
        yield from cell_sentences(both, name, ours, theirs)
    yield from cell_sentences(both, f"{name}, script", (*was.departures, *was.missing), (*now.departures, *now.missing))


def manner_of_words(both: Aligned, name: str, voices: tuple[Voice, Voice], words: Matched) -> Iterator[str]:
    """Words of both sheets that have other sounds now, or the same on other rows, or are stressed otherwise."""
    was, now = voices
    for pair in words.pairs:
        if pair.before.before or pair.after.before or pair.before.beyond or pair.after.beyond:
            continue  # only a part of it is on the sheet
        text = f"{name}: “{pair.after.text}”"
        ours, theirs = sounds_in(was.sounds, pair.before), sounds_in(now.sounds, pair.after)
        if [sound for sound, _ in ours] != [sound for sound, _ in theirs]:
            yield f"{text} is said {spelt(theirs)}, before {spelt(ours)}"
        elif ours != theirs:
            place = f"{both.number_after(pair.after.first)} to {both.number_after(pair.after.stop - 1)}"
            yield f"{text} has its sounds on other rows, {place}"
        our_stress, their_stress = beats_in(was.beats, pair.before), beats_in(now.beats, pair.after)
        if our_stress != their_stress:
            yield f"{text} is {stress_told(their_stress)}, before {stress_told(our_stress)}"


def sounds_in(sounds: Sequence[Cell], word: Cell) -> list[tuple[str, int]]:
    """The sounds that start in a word, each with its row in it."""
    return [(one.text, one.first - word.first) for one in sounds if word.first <= one.first < word.stop]


def spelt(sounds: list[tuple[str, int]]) -> str:
    return "-".join(text for text, _ in sounds) or "without a sound"


def beats_in(beats: Sequence[Beat], word: Cell) -> Beats:
    """The stress of the syllables that start in a word, with the row, turn and main mark of each."""
    return [
        (one.first - word.first, DEGREES[one.degree], one.tone.value if one.tone else "", one.main)
        for one in beats
        if word.first <= one.first < word.stop
    ]


def stress_told(beats: Beats) -> str:
    """`strong, main beat, fall` for a syllable, one after another for several."""
    each = (", ".join(filter(None, (degree, "main beat" if main else "", tone))) for _, degree, tone, main in beats)
    return " / ".join(each) or "without stress"


def quoted(words: Sequence[Cell]) -> str:
    return f"“{' '.join(cell.text for cell in words)}”"


def same_words(one: str, other: str) -> bool:
    """Whether two texts have the same words, whatever their signs and capitals."""
    return [bare(word) for word in one.split()] == [bare(word) for word in other.split()]
