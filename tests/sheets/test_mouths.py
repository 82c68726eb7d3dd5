"""Mouths: which is worn on which row, what marks a change and what a person set, and the list of them."""

from dataclasses import replace
from io import BytesIO

import pdfplumber
import pytest

from tests.sheets import reading_marks as read
from tests.sheets.boards import as_bytes, drawing
from tests.sheets.examples import EXAMPLES
from tests.sheets.mouths import dressed, looks_of
from tests.sheets.reading_signs import first_of, heights, mouth_marks, rows_of
from tests.sheets.voices import CROWD, a_speaker, acted, acted_crowd, two_voices
from trackread.core.mouth import Worn
from trackread.core.sheet import Voice
from trackread.core.timebase import Frame
from trackread.sheets.counts import count_for
from trackread.sheets.layout import changed_pages
from trackread.sheets.marks import Drawn, Line, Page, Picture
from trackread.sheets.mouths import LEAST_SIDE, MouthRun, mouth_runs
from trackread.sheets.paper import paper_for
from trackread.sheets.pdf import draw_sheet, sights_of, width_of

WORN = tuple(name for name in EXAMPLES if name.startswith("worn"))
EVERY = pytest.mark.parametrize("name", WORN)
KIT = ("lips shut", "half open", "jaw down", "lips pushed out, teeth")


def a_wearer(*runs, kit=KIT, **changes) -> Voice:
    """A voice that says nothing and wears mouths, given by first frame, stop, place in the kit, and if pinned."""
    mouths = tuple(Worn(kit[number - 1], Frame(first), Frame(stop), *pinned) for first, stop, number, *pinned in runs)
    return a_speaker(mouths=mouths, mouth_names=kit, **changes)


def wearing(*voices, length=48, **changes):
    """A sheet with nothing but what some puppets wear."""
    silent = {"action": (), "camera": (), "changed": ()}
    return two_voices(voices=voices, length=Frame(length), **silent | changes)


def runs_in(voice: Voice, page: Page) -> list[MouthRun]:
    """The runs that are seen on a page."""
    rows = set(rows_of(page))
    return [run for run in mouth_runs(voice.mouths, voice.mouth_names) if set(range(run.first, run.stop)) & rows]


def wearers(page: Page, name: str) -> list[tuple[Voice, tuple[float, float]]]:
    """Each voice on a page of an example, with the edges of its mouth column, found by its heading."""
    edges = sorted({rule.x1 for rule in read.uprights(page)})
    heads = sorted(text.x for text in read.above_rows(page) if text.text == "mouth")
    lanes = [(max(e for e in edges if e <= x), min(e for e in edges if e > x)) for x in heads]
    named = {text.text.partition(" (")[0]: text.x for text in read.above_rows(page)}
    voices = [voice for voice in EXAMPLES[name][0].voices if any(voice.character.startswith(n) for n in named)]
    here = voices if len(voices) == len(lanes) else list(EXAMPLES[name][0].voices)
    assert len(here) == len(lanes) > 0
    return list(zip(here, lanes, strict=True))


def called(run: MouthRun, listing: str) -> set[str]:
    """What may stand for a mouth: its name, or its number if the list says so."""
    return {run.name, f"…{run.name}"} | ({str(run.number)} if f"{run.number} {run.name}" in listing else set())


@EVERY
def test_each_mouth_reads_back_on_the_row_where_it_is_put_on_in_its_own_column(name: str):
    """The PDF is read by pdfplumber, which finds the words in their places; a number is explained on the sheet."""
    sheet, paper, rows, count = EXAMPLES[name]
    content = draw_sheet(sheet, paper_for(paper, rows), count=count_for(count, sheet.rate))
    laid_out = read.pages_of(*EXAMPLES[name])
    with pdfplumber.open(BytesIO(content)) as document:
        words = [page.extract_words(x_tolerance=1.5, use_text_flow=True) for page in document.pages]
    whole = " ".join(word["text"] for page in words for word in page)
    seen = 0
    for page, found in zip(laid_out, words, strict=True):
        if not read.has_rows(page):
            continue
        tops = rows_of(page)
        for voice, (left, right) in wearers(page, name):
            for run in runs_in(voice, page):
                first = max(run.first, first_of(page))
                lines = [
                    " ".join(
                        word["text"]
                        for word in found
                        if word["upright"] and left < word["x0"] < right and tops[row][0] < middle(word) < tops[row][1]
                    )
                    for row in range(first, run.stop)
                    if row in tops
                ]
                assert " ".join(filter(None, lines)) in called(run, whole)
                assert lines[0]
                seen += 1
    assert seen >= sum(len(voice.mouths) for voice in sheet.voices) > 0


def middle(word: dict[str, float]) -> float:
    return (word["top"] + word["bottom"]) / 2


@EVERY
def test_every_change_has_a_corner_on_its_row_and_every_pin_a_clamp_round_its_rows(name: str):
    for page in read.example(name):
        tops, marks = rows_of(page), mouth_marks(page)
        for voice, (left, right) in wearers(page, name):
            here = [mark for mark in marks if all(left - 0.1 <= x <= right + 0.1 for x, _ in mark.points)]
            expected = [run for run in runs_in(voice, page) if run.pinned or (run.changes and run.first in tops)]
            assert len(here) == len(expected)
            for mark, run in zip(here, expected, strict=True):
                begins, ends = run.first in tops, run.stop - 1 in tops
                start, stop = tops[max(run.first, min(tops))][0], tops[min(run.stop - 1, max(tops))][1]
                top, bottom = heights(mark)
                height = tops[min(tops)][1] - tops[min(tops)][0]
                assert abs(top - start) < 0.1 * height
                assert (len(mark.points) - 2 == begins + ends) if run.pinned else len(mark.points) == 3
                assert (abs(bottom - stop) < 0.35 * height) if run.pinned else bottom < start + height


@EVERY
def test_pictures_stand_in_their_own_column_clear_of_texts_and_of_each_other(name: str):
    sheet, *form = EXAMPLES[name]
    pages = [page for page in read.pages_of(sheet, *form, sights=looks_of(sheet)) if read.has_rows(page)]
    for page in pages:
        bottom = read.uprights(page)[0].y2
        drawn = [mark for mark in page.marks if isinstance(mark, Drawn) and mark.y < bottom]
        boxes = [read.Extent(mark.x, mark.y, mark.x + mark.side, mark.y + mark.side) for mark in drawn]
        for number, box in enumerate(boxes):
            assert any(left < box.left and box.right < right for _, (left, right) in wearers(page, name))
            assert box.bottom <= bottom
            assert not [text.text for text in read.in_rows(page) if read.extent(text).meets(box)]
            assert not [other for other in boxes[:number] if other.meets(box)]
            assert box.right - box.left >= LEAST_SIDE
    # One or two voices have room for them.
    seen = any(isinstance(mark, Drawn) and mark.y < read.uprights(page)[0].y2 for page in pages for mark in page.marks)
    assert seen or len(sheet.voices) > 2


def test_a_mouth_that_is_held_over_the_page_is_named_again_there_without_a_corner():
    sheet = wearing(a_wearer((0, 40, 1), (40, 60, 3), (60, 96, 1)), length=96)
    first, second = read.pages_of(sheet)
    (held,) = [text for text in read.in_column(second, "mouth") if text.text == "…jaw down"]

    assert held.baseline == read.numbers(second)["49"]
    assert [text.text for text in read.in_column(first, "mouth")] == ["lips shut", "jaw down"]
    assert len(mouth_marks(first)) == 2
    assert len(mouth_marks(second)) == 1


def test_a_mouth_that_is_pinned_while_it_is_worn_has_a_clamp_and_is_not_put_on_again():
    page = read.pages_of(wearing(a_wearer((0, 10, 1), (10, 14, 1, True), (14, 48, 1))))[0]
    marks = mouth_marks(page)
    rows = rows_of(page)

    assert [len(mark.points) for mark in marks] == [3, 4]
    assert heights(marks[1]) == pytest.approx((rows[10][0], rows[13][1]), abs=5)


def test_a_clamp_goes_on_over_the_page():
    first, second = read.pages_of(wearing(a_wearer((0, 40, 1), (40, 60, 3, True), (60, 96, 1)), length=96))

    assert len(mouth_marks(first)[-1].points) == 3
    assert heights(mouth_marks(first)[-1])[1] > rows_of(first)[47][0]
    assert len(mouth_marks(second)[0].points) == 3
    assert heights(mouth_marks(second)[0])[0] < rows_of(second)[48][0]


def test_a_corner_leaves_more_ink_than_anything_else_of_its_lane():
    """So it is the first to be seen: heavier than the lines that hold."""
    page = read.example("worn-two")[0]
    lines = [mark for mark in page.marks if isinstance(mark, Line)]
    for _, (left, right) in wearers(page, "worn-two"):
        held = {line.weight for line in lines if left < line.x1 <= line.x2 < right}

        assert len(held) == 1
        assert min(mark.weight for mark in mouth_marks(page)) > 1.5 * max(held)


def test_names_stand_wherever_they_have_room_and_numbers_of_the_kit_where_not():
    page = read.pages_of(wearing(a_wearer((0, 1, 4), (1, 3, 4), (3, 4, 3), (4, 48, 4))))[0]
    found = [text.text for text in read.in_column(page, "mouth")]

    assert found == ["4", "lips pushed", "out, teeth", "jaw down", "lips pushed", "out, teeth"]


def test_a_narrow_column_has_numbers_alone_so_that_all_its_mouths_read_alike():
    page = read.example("worn-six")[0]

    assert all(text.text.isdigit() for text in read.in_column(page, "mouth"))


def test_numbers_are_those_of_the_kit_on_every_sheet_whatever_is_worn():
    kit = tuple(f"mouth that is number {number} of many" for number in range(1, 31))
    one = read.pages_of(wearing(*[a_wearer((0, 2, 30), (2, 48, 7), kit=kit, character=name) for name in CROWD]))
    found = [text.text for text in read.in_column(one[0], "mouth") if text.baseline == read.numbers(one[0])["1"]]

    assert set(found) == {"30"}


def test_a_mouth_that_is_not_in_the_kit_has_a_number_after_all_that_are():
    runs = mouth_runs((Worn("moustache", Frame(0), Frame(2)), Worn("jaw down", Frame(2), Frame(4))), KIT)

    assert [(run.name, run.number) for run in runs] == [("moustache", 5), ("jaw down", 3)]


def test_a_number_that_has_no_room_is_told_in_full_after_the_last_row():
    kit = tuple(f"number {number}" for number in range(1, 12001))
    voices = [replace(voice, mouths=(Worn(kit[-1], Frame(0), Frame(96)),)) for voice in acted_crowd(6).voices]
    pages = read.pages_of(acted(*(replace(voice, mouth_names=kit) for voice in voices)))

    assert "Frame 1, BRACK's mouth: number 12000" in " ".join(read.whole_text(page) for page in pages)


def test_a_page_lists_the_numbers_that_it_uses_and_no_others():
    page = read.example("worn-six")[0]
    foot = " ".join(text.text for text in read.below_rows(page))
    for voice, (left, right) in wearers(page, "worn-six"):
        used = {int(text.text) for text in read.in_column(page, "mouth") if left < text.x < right}
        own = foot.partition(f"Mouths of {voice.character}: ")[2].partition("Mouths of")[0]
        listed = {number for number, name in enumerate(voice.mouth_names, 1) if f"{number} {name}" in own}

        assert used <= listed
        assert sum(own.count(f" {number} ") + own.startswith(f"{number} ") for number in range(1, 13)) == len(used)


def test_where_a_head_leaves_no_room_in_the_foot_all_mouths_are_listed_at_the_end():
    crowd = acted_crowd(6)
    sheet = dressed(replace(crowd, heading=replace(crowd.heading, warning="DO NOT SHOOT FROM THIS. " * 8)))
    pages = read.pages_of(sheet)
    last = read.whole_text(pages[-1])

    assert all("Mouths of" not in read.whole_text(page) for page in pages if read.has_rows(page))
    assert all("numbers of mouths: listed at the end" in read.whole_text(page) for page in pages if read.has_rows(page))
    for voice in sheet.voices:
        for number, name in enumerate(voice.mouth_names, 1):
            frames = [f for run in voice.mouths if run.mouth == name for f in range(run.first, run.stop)]
            assert f"Mouths of {voice.character}" in last
            assert not frames or f"{number} {name.split()[0]}" in last
            assert not frames or f"{len(frames)} frames, first on {min(frames) + 1}" in last


def test_with_pictures_every_mouth_that_is_worn_is_shown_once_at_the_end():
    sheet = dressed(acted())
    pages = read.pages_of(sheet, sights=looks_of(sheet))
    worn = {(voice.character, run.mouth) for voice in sheet.voices for run in voice.mouths}

    assert not read.has_rows(pages[-1])
    assert sum(isinstance(mark, Drawn) for mark in pages[-1].marks) == len(worn)


def test_the_list_stands_below_the_last_row_if_there_is_room():
    short = wearing(a_wearer((0, 10, 1), (10, 20, 3)), length=20)
    pages = read.pages_of(short, sights=looks_of(short))
    below = [mark for mark in pages[0].marks if isinstance(mark, Drawn) and mark.y > read.uprights(pages[0])[0].y2]

    assert len(pages) == 1
    assert len(below) == 2


def test_the_list_goes_on_over_as_many_pages_as_it_needs():
    kit = tuple(f"number {number}" for number in range(1, 201))
    sheet = wearing(a_wearer(*((at, at + 1, at + 1) for at in range(200)), kit=kit), length=200)
    pages = read.pages_of(sheet, sights={"BRACK": dict.fromkeys(kit, looks_of(acted())["BRACK"]["jaw down"])})
    shown = [page for page in pages if not read.has_rows(page)]

    assert len(shown) > 1
    assert sum(isinstance(mark, Drawn) for page in shown for mark in page.marks) == 200


def test_a_picture_is_kept_once_in_the_document_however_often_it_is_printed():
    """Worn forty times, a drawing costs the document little more than worn once."""
    kit, looks = ("lips shut", "jaw down"), looks_of(acted())
    runs = [(at, at + 6, 1 + at // 6 % 2) for at in range(0, 240, 6)]
    sheet = wearing(a_wearer(*runs, kit=kit), length=240)
    plain, pictured = (draw_sheet(sheet, paper_for("A4", 48), looks=some) for some in (None, looks))

    assert len(pictured) - len(plain) < 12_000
    assert pictured == draw_sheet(sheet, paper_for("A4", 48), looks=looks)
    assert pictured.count(b"/Subtype /Form") == 2


def test_a_mouth_may_be_a_photograph():
    picture = as_bytes(drawing((300, 200)))
    looks = {"BRACK": {"jaw down": picture}}
    sheet = wearing(a_wearer((0, 10, 1), (10, 20, 3)), length=20)
    content = draw_sheet(sheet, paper_for("A4", 48), looks=looks)
    page = read.pages_of(sheet, sights={"BRACK": sights_of(looks["BRACK"])})[0]

    assert [round(mark.width / mark.height, 2) for mark in page.marks if isinstance(mark, Picture)] == [1.5, 1.5]
    with pdfplumber.open(BytesIO(content)) as document:
        assert len(document.pages[0].images) == 2


def test_the_list_is_printed_again_with_pages_that_changed():
    sheet = replace(dressed(acted()), changed=((Frame(3), Frame(5)),))

    assert changed_pages(sheet, paper_for("A4", 48), measure=width_of) == (1,)
    assert changed_pages(sheet, paper_for("A4", 48), measure=width_of, sights=looks_of(sheet)) == (1, 3)


def test_a_voice_that_is_heard_from_elsewhere_has_no_mouths():
    with pytest.raises(ValueError, match=r"BRACK is heard O\.S\., and nobody sees its mouth"):
        a_wearer((0, 10, 1), extension="O.S.")


def test_the_key_explains_corners_and_clamps_where_they_stand():
    plain, pinned, none = (
        " ".join(text.text for text in read.below_rows(read.pages_of(wearing(voice))[0]))
        for voice in (a_wearer((0, 48, 1)), a_wearer((0, 48, 1, True)), a_speaker())
    )

    assert ("another mouth" in plain, "mouth set by hand" in plain) == (True, False)
    assert ("another mouth" in pinned, "mouth set by hand" in pinned) == (False, True)
    assert "mouth" not in none


def test_who_wears_nothing_keeps_a_column_to_write_in_beside_one_who_does():
    both = wearing(a_wearer((0, 48, 1)), a_speaker(character="TUM"))
    page = read.pages_of(both)[0]
    heads = sorted(text.x for text in read.above_rows(page) if text.text == "mouth")

    assert len(heads) == 2
    assert not [text for text in read.in_column(page, "mouth") if text.x > heads[1]]
