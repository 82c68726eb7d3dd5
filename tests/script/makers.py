"""Scripts made by hand and by hypothesis, for tests of what is done with a script."""

from hypothesis import strategies as st

from trackread.script.rows import Row, Source, script_of

SCENE = (
    ("7", "BRACK", "Hold tight! Hold tight, please!"),
    ("7", "MISS PELL", "Tickets, please. Every seat, every ticket."),
    ("7", "TUM", "Don't look at me. I am only a hat."),
    ("7", "MISS PELL", "Is this anybody's hat?"),
    ("7", "BRACK", "That hat got on at the depot, Miss Pell."),
    ("8", "TUM", "Please, Miss Pell! It is such a long way to walk."),
    ("8", "TUM", "I have two acorns."),
    ("8", "MISS PELL", "Sit down, small hat. Mumblethorpe is next."),
)


def a_script(said=SCENE):
    """A script of (scene, character, words)."""
    rows = [Row(scene, character, text, number) for number, (scene, character, text) in enumerate(said, 1)]
    return script_of(rows, Source("tram.txt", repr(said), "tram"))


WORDS = st.sampled_from(["hat", "tram", "ticket", "acorn", "please", "no", "Yes.", "(dry)", "lamp…", "rain—"])
SAID = st.tuples(
    st.sampled_from(["7", "8", "8A"]),
    st.sampled_from(["BRACK", "Tum", "TUM", "MISS PELL"]),
    st.lists(WORDS, min_size=1, max_size=6).map(" ".join),
)


def scripts():
    return st.lists(SAID, min_size=1, max_size=14).map(a_script)


@st.composite
def drafts(draw):
    """Two drafts: the second has some lines of the first taken out, edited, moved and put in."""
    said = draw(st.lists(SAID, min_size=1, max_size=14))
    after = []
    for one in said:
        fate = draw(st.sampled_from(["keep", "keep", "drop", "edit", "insert"]))
        if fate == "edit":
            after.append((one[0], one[1], f"{one[2]} {draw(WORDS)}"))
        elif fate != "drop":
            after.append(one)
        if fate == "insert":
            after.append(draw(SAID))
    cut = draw(st.integers(0, len(after)))
    return a_script(said), a_script(after[cut:] + after[:cut] or said)
