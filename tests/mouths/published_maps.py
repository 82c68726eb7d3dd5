"""Published groupings of phones that look alike on the lips, in ARPAbet: one row a map, `|` between groups.

What a map does not cover is left out of it. Jeffers & Barley, Neti and Lee & Yook are as cited in Gillen's thesis on
TCD-TIMIT; Owens & Blazek is from its abstract; Bozkurt is from memory. Of MPEG-4, the example words of the table are
taken as ARPAbet: T th, D dh, tS ch, dZ jh, S sh, A: aa, e eh, I ih, Q ao, U uh.
"""

from itertools import combinations

from trackread.core.phones import PHONES

PUBLISHED = {
    # ISO/IEC 14496-2, facial animation parameter 1, groups 1 to 14.
    "MPEG-4": "P B M | F V | TH DH | T D | K G | CH JH SH | S Z | N L | R | AA | EH | IH | AO | UH",
    # HH has no shape of its own in it.
    "Jeffers & Barley 1971": (
        "F V | ER OW R W UH UW | B P M | AW | DH TH | CH JH SH ZH | OY AO | S Z | AA AE AH AY EY IH IY Y EH | D L N T |"
        " G K NG"
    ),
    "Neti, Potamianos et al. 2003": (
        "AO AH AA ER OY AW HH | UW UH OW | AE EH EY AY | IH IY | L R Y | S Z | T D N | SH ZH CH JH | P B M | TH DH |"
        " F V | NG K G W"
    ),
    # As given by Cappelletta & Harte (2012).
    "Lee & Yook 2002": (
        "B P M | D T S Z TH DH | G K N NG L Y HH | JH CH SH ZH | F V | R W | IY IH | EH EY AE | AA AW AY | AH |"
        " AO OY OW | UH UW | ER"
    ),
    "Bozkurt 2007": (
        "AY AH | EY EH AE | ER | IH IY Y | UW UH W | AO AA OY OW | AW | G HH K NG | R | L D N T | S Z | CH SH JH ZH |"
        " TH DH | F V | M B P"
    ),
    # Journal of Speech and Hearing Research 28, 381. Consonants only.
    "Owens & Blazek 1985": "P B M | F V | TH DH | W R | CH JH SH ZH | T D S K N G L",
}

# Each of these is a group of its own in every map.
APART = ("P B M", "F V", "CH JH SH ZH")


def groups_of(published):
    """The number of its group by each phone that the map covers."""
    return {phone: number for number, group in enumerate(published.split("|")) for phone in group.split()}


def opinions():
    """What the maps that cover both say of each pair of phones: the set of whether they are in one group."""
    maps = [groups_of(published) for published in PUBLISHED.values()]
    return {
        (one, other): {groups[one] == groups[other] for groups in maps if {one, other} <= set(groups)}
        for one, other in combinations(PHONES, 2)
    }


def always_alike():
    """The pairs that are in one group in every map which covers both."""
    return [pair for pair, told in opinions().items() if told == {True}]
