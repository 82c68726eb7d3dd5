"""Readings of lines of *The Late Tram* that nobody said: words, sounds, stress, pitch and level made up by chance.

Times are samples, 48,000 a second. What is made has the shape of speech and none of its sound: how long each kind of
phone lasts, and how loud it is, is common knowledge of phonetics, no source.
"""

from collections.abc import Sequence
from random import Random

from made_feature import SAMPLE_RATE, Saying

from trackread.core.performance import Departure, DepartureKind, Event, EventKind, Phrase, Reason, Tone
from trackread.core.phones import PAUSE, VOWELS
from trackread.core.reading import ENGINE, Match, Phone, Reading, Syllable, Track, Word
from trackread.core.sound import Sound
from trackread.core.timebase import Sample
from trackread.reading.lexicon import dictionary_ways

HOP = SAMPLE_RATE // 100
MILLISECOND = SAMPLE_RATE // 1000
TAKE = (1200, 4000)  # milliseconds: no take is shorter or longer
VOICELESS = frozenset("P T K F TH S SH CH HH".split())
DEGREES = {0: 0, 1: 2, 2: 1}  # what is heard of the dictionary's stress
OPENINGS = (
    "Mind the step",
    "Hold tight, please",
    "Bless my whiskers",
    "No, no, no",
    "Listen",
    "Well, now then",
    "Tickets, please",
    "Look behind you",
    "Honestly",
    "Goodness",
)
WHO = ("the old conductor", "somebody", "the inspector", "nobody", "a dormouse", "this badger", "your heron", "she")
DID = ("lost", "polished", "forgot", "dropped", "counted", "carried", "heard", "hid", "borrowed", "found")
WHAT = ("the bell rope", "an umbrella", "two acorns", "my whistle", "a cold sandwich", "the brake lever", "her hat")
WHERE = (
    "under the seat",
    "behind the lantern",
    "on the bridge",
    "at the depot",
    "in the fog",
    "before the old mill",
    "beside the river",
)
WHEN = ("tonight", "again", "in winter", "seven minutes ago", "for forty miles", "every tomorrow", "perhaps")


def sayings(count: int, seed: int) -> tuple[Saying, ...]:
    """So many texts, no two alike, with two tellings of each."""
    random = Random(f"{seed} sayings")
    texts: dict[str, None] = {}
    while len(texts) < count:
        texts[text_of(random)] = None
    return tuple(Saying(text, (told(text, random), told(text, random))) for text in texts)


def text_of(random: Random) -> str:
    """A line of three to fourteen words."""
    said = f"{random.choice(WHO)} {random.choice(DID)} {random.choice(WHAT)}"
    more = random.choice((WHERE, WHEN, ("",)))
    sentence = f"{said} {random.choice(more)}".strip()
    end = random.choice(".!?")
    first = f"{random.choice(OPENINGS)}! " if random.random() < 0.5 else ""
    return f"{first}{sentence[0].upper()}{sentence[1:]}{end}"


def told(text: str, random: Random) -> Reading:
    """One take of a text: a pause, words with pauses after their signs, and a pause."""
    phones, words, syllables = [Phone(PAUSE, 1.0)], [], []
    for text_word in text.split():
        way = dictionary_ways(text_word.strip(".,!?").lower())[0]
        first = len(phones)
        phones += [Phone(symbol.rstrip("012"), random.randint(600, 1000) / 1000) for symbol in way]
        syllables += syllables_of(way, first, random)
        words.append(word_of(text_word, first, len(phones), random))
        if text_word[-1] in ",.!?":
            phones.append(Phone(PAUSE, 0.9))
    cuts = cuts_of([phone.symbol for phone in phones], random)
    levels = levels_of(phones, cuts, random)
    return Reading(
        sound=Sound("0" * 64, SAMPLE_RATE, cuts[-1]),
        phones=tuple(phones),
        cuts=cuts,
        words=tuple(words),
        syllables=tuple(syllables),
        pitch=Track(HOP, pitches_of(phones, cuts, random)),
        level=Track(HOP, levels),
        match=Match(random.randint(850, 1000) / 1000, says_line=True),
        engine=ENGINE,
        events=breaths_of(cuts, random),
        phrases=tuple(phrases_of(phones, words, syllables, random)),
        departures=departures_of(words, random),
    )


def word_of(text: str, first: int, stop: int, random: Random) -> Word:
    doubt = random.randint(0, 1000) ** 3 / 10**9
    reasons = (random.choice([Reason.NOISE, Reason.STOP, Reason.TWO_READINGS]),) if doubt > 0.4 else ()
    return Word(text, first, stop, doubt=doubt, reasons=reasons)


def syllables_of(way: Sequence[str], first: int, random: Random) -> list[Syllable]:
    """A syllable around each vowel, with the consonants before it; the last has those after it too."""
    vowels = [place for place, symbol in enumerate(way) if symbol.rstrip("012") in VOWELS]
    edges = [0, *(vowel + 1 for vowel in vowels[:-1]), len(way)]
    found = []
    for start, stop, vowel in zip(edges, edges[1:], vowels, strict=False):
        digit = int(way[vowel][-1])
        strength = (300 * DEGREES[digit] + random.randint(0, 300)) / 1000
        tone = random.choice([*Tone, None])
        found.append(Syllable(first + start, first + stop, first + vowel, digit, DEGREES[digit], strength, tone))
    return found


def cuts_of(symbols: Sequence[str], random: Random) -> tuple[Sample, ...]:
    """Where each phone starts, and where the last stops; a take that is too short or long is said slower or quicker."""
    lengths = [milliseconds_of(symbol, random) for symbol in symbols]
    whole = sum(lengths)
    wanted = min(max(whole, TAKE[0]), TAKE[1])
    cuts, done = [Sample(0)], 0
    for length in lengths:
        done += length
        cuts.append(Sample(done * wanted * MILLISECOND // whole))
    return tuple(cuts)


def milliseconds_of(symbol: str, random: Random) -> int:
    if symbol == PAUSE:
        return random.randint(80, 320)
    return random.randint(60, 150) if symbol in VOWELS else random.randint(40, 110)


def sounding(phones: Sequence[Phone], cuts: Sequence[Sample]) -> list[str]:
    """The phone that sounds at each hop."""
    found, place = [], 0
    for hop in range(cuts[-1] // HOP + 1):
        while place < len(phones) - 1 and cuts[place + 1] <= hop * HOP:
            place += 1
        found.append(phones[place].symbol)
    return found


def levels_of(phones: Sequence[Phone], cuts: Sequence[Sample], random: Random) -> tuple[float, ...]:
    """The level in dB: loud in vowels, and as quiet as a room in pauses."""
    middle = {PAUSE: -62}
    return tuple(
        middle.get(symbol, -18 if symbol in VOWELS else -30) + random.randint(-40, 40) / 10
        for symbol in sounding(phones, cuts)
    )


def pitches_of(phones: Sequence[Phone], cuts: Sequence[Sample], random: Random) -> tuple[float | None, ...]:
    """The pitch in hertz, which falls and wanders; None where nothing has a pitch."""
    hertz, found = random.randint(900, 2600) / 10, []
    for symbol in sounding(phones, cuts):
        hertz *= 1 + random.randint(-21, 19) / 1000
        found.append(None if symbol == PAUSE or symbol in VOICELESS else max(60.0, min(hertz, 500.0)))
    return tuple(found)


def breaths_of(cuts: Sequence[Sample], random: Random) -> tuple[Event, ...]:
    """A breath in before the first word, where there is time for it."""
    if cuts[1] < 150 * MILLISECOND or random.random() < 0.3:
        return ()
    return (Event(EventKind.BREATH_IN, Sample(20 * MILLISECOND), Sample(cuts[1] - 30 * MILLISECOND), 0.8),)


def phrases_of(
    phones: Sequence[Phone], words: Sequence[Word], syllables: Sequence[Syllable], random: Random
) -> list[Phrase]:
    """The words between pauses, each phrase with its strongest syllable."""
    stops = [place + 1 for place, word in enumerate(words) if phones[word.stop].symbol == PAUSE]
    found = []
    for first, stop in zip([0, *stops], stops, strict=False):
        within = range(words[first].first, words[stop - 1].stop)
        own = [number for number, syllable in enumerate(syllables) if syllable.first in within]
        main = max(own, key=lambda number: syllables[number].strength)
        found.append(Phrase(first, stop, main, random.choice(list(Tone)), random.randint(30, 70) / 10))
    return found


def departures_of(words: Sequence[Word], random: Random) -> tuple[Departure, ...]:
    """Of some takes, one word that the line has otherwise."""
    if random.random() > 0.03:
        return ()
    place = random.randrange(len(words))
    return (Departure(DepartureKind.SWAPPED, place, place + 1, "trolley"),)
