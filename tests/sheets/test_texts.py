"""Words, sounds and notes: where they stand, how they are set, and that none is lost."""

from hypothesis import given
from hypothesis import strategies as st

from tests.sheets import reading_marks as read
from tests.sheets.voices import a_cell, a_speaker, two_voices
from trackread.core.sheet import Beat
from trackread.core.timebase import Frame
from trackread.sheets.marks import Face


def test_sounds_that_begin_on_one_frame_stand_there_together():
    page = read.example("two")[0]

    assert read.numbers(page)["9"] in [text.baseline for text in read.in_column(page, "sound") if text.text == "nd"]


def test_a_sound_is_never_broken_over_two_rows():
    voice = a_speaker(sounds=(a_cell(3, 9, "schwrstl"),))
    sounds = read.in_column(read.pages_of(two_voices(voices=(voice,) * 5))[0], "sound")

    assert {text.baseline for text in sounds} == {sounds[0].baseline}
    assert all(text.whole == "Frame 4, BRACK's sound: schwrstl" for text in sounds)


def test_words_that_carry_strong_stress_are_bold():
    faces = {text.text: text.face for text in read.in_rows(read.example("two")[0])}

    assert faces["Mind"] in (Face.BOLD, Face.CONDENSED_BOLD)
    assert faces["never"] in (Face.BOLD, Face.CONDENSED_BOLD)
    assert faces["the"] is Face.REGULAR
    assert faces["step,"] is Face.REGULAR


def test_words_of_one_frame_are_joined_and_bold_if_one_of_them_is_strong():
    voice = a_speaker(a_cell(2, 5, "a"), a_cell(2, 9, "step"), beats=(Beat(Frame(2), Frame(9), 2),))
    found = {text.text: text for text in read.in_rows(read.pages_of(two_voices(voices=(voice,)))[0])}

    assert found["a step"].face is Face.BOLD


def test_a_word_that_holds_over_the_page_is_named_again_on_the_next():
    second = read.example("two")[1]
    found = {text.text: text.baseline for text in read.in_rows(second)}

    assert found["…step"] == found["-p"] == read.numbers(second)["49"]


def test_a_long_word_is_broken_over_its_own_frames_only():
    long = "Extraordinarilyunpronounceable"
    voice = a_speaker(a_cell(0, 3, long), a_cell(3, 6, "tram"))
    page = read.pages_of(two_voices(voices=(voice, voice), action=(), camera=()))[0]
    rows = read.numbers(page)
    lines = [text for text in read.in_rows(page) if text.text.rstrip("-") and text.text.rstrip("-") in long]

    assert {text.baseline for text in lines if not text.text.isdigit()} <= {rows["1"], rows["2"], rows["3"]}
    assert "".join(text.text.rstrip("-") for text in lines) == long * 2


def test_what_cannot_be_set_in_its_row_is_printed_in_full_at_the_end():
    long = "looks for the ticket in every pocket of the coat, and then in the hat, and then in the umbrella"
    action = (a_cell(0, 1, long), a_cell(1, 2, "sighs"), a_cell(90, 96, "waits " * 3))
    below = read.pages_of(two_voices(action=action[:2]))
    after = read.pages_of(two_voices(action=action, length=Frame(96), voices=()))

    assert len(below) == 2
    assert read.whole_text(below[-1]).count(long) == 1
    assert len(after) == 3
    assert read.whole_text(after[-1]).count(f"Frame 1, action: {long}") == 1


def test_texts_in_full_go_on_over_as_many_pages_as_they_need():
    action = tuple(a_cell(frame, frame + 1, f"note {frame} " + "very long " * 30) for frame in range(48))
    pages = read.pages_of(two_voices(action=action, camera=(), voices=(), length=Frame(48), changed=()))
    rest = " ".join(read.whole_text(page) for page in pages[1:])

    assert len(pages) > 3
    assert all(f"note {frame} very" in rest for frame in range(48))


def test_a_note_may_use_free_rows_after_its_span():
    page = read.example("two")[0]
    column = {text.text: text.baseline for text in read.in_column(page, "action, notes")}

    assert column["looks up"] == read.numbers(page)["30"]


def test_breaths_stand_in_brackets_among_the_words():
    page = read.example("two")[0]
    found = {text.text: text.baseline for text in read.in_rows(page)}

    assert found["(breath in)"] == read.numbers(page)["19"]


@given(
    st.lists(
        st.text(st.characters(codec="latin-1", categories=["L", "P"]), min_size=1, max_size=24), min_size=1, max_size=12
    )
)
def test_no_word_leaves_its_column_or_is_lost(words: list[str]):
    cells = tuple(a_cell(3 * number, 3 * number + 2, word) for number, word in enumerate(words))
    pages = read.pages_of(two_voices(voices=(a_speaker(*cells),) * 4, action=(), camera=()))
    edges = [rule.x1 for rule in read.uprights(pages[0])]
    everything = "".join(text.text.replace("-", "").replace(" ", "") for page in pages for text in read.texts(page))

    for word in words:
        assert word.replace("-", "") in everything
    for text in read.in_rows(pages[0]):
        extent = read.extent(text)
        assert not [edge for edge in edges if extent.left < edge - 0.5 and extent.right > edge + 0.5]
