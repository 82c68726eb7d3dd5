"""A real take, read and printed: what stands on each row of the PDF is what the reading says of that frame."""

from io import BytesIO

import pdfplumber
import pytest

from trackread.core.phones import PAUSE
from trackread.core.plain import reading_to_plain
from trackread.core.sheet import Heading
from trackread.core.spelling import sounds_of
from trackread.core.timebase import parse_rate
from trackread.workflow.printing import form_for, printed
from trackread.workflow.sheet_of_take import Terms, sheet_of_take

# Every rate of picture work, as SMPTE ST 12-1 counts them.
RATES = ("23.976", "24", "25", "29.97", "29.97df", "30", "47.952", "48", "50", "59.94", "59.94df", "60")
FIRST = 101


@pytest.fixture(scope="module")
def reading(reader, tram):
    return reader.read(*tram["06"])


def rows_of(content):
    """The words on each row of a sheet, by the frame number that stands at its left."""
    rows = {}
    with pdfplumber.open(BytesIO(content)) as document:
        for page in document.pages:
            words = [(word["text"], word["x0"], word["bottom"]) for word in page.extract_words()]
            for number, left, bottom in words:
                beside = [text for text, x, lower in words if x > left and abs(lower - bottom) < 0.5]
                # The head says how many frames there are, at the left too.
                if left < 70 and number.isdigit() and len(number) == 3 and "frames," not in beside:
                    rows[int(number)] = beside
    return rows


@pytest.mark.parametrize("rate", RATES)
def test_each_word_and_sound_is_printed_on_the_row_of_its_frame(reading, rate):
    form = form_for(Terms(parse_rate(rate), FIRST))
    sheet = sheet_of_take(reading, form.terms, character="BRACK", heading=Heading(take="06"))
    plain = reading_to_plain(reading, form.terms.rate)
    said = {}
    for phone, sound in zip(plain["phones"], sounds_of(reading, as_ipa=False), strict=True):
        if phone["symbol"] != PAUSE:
            said[phone["frame"]] = said.get(phone["frame"], "") + sound

    rows = rows_of(printed(sheet, form))

    assert list(rows) == list(range(FIRST, FIRST + sheet.length))
    for word in plain["words"]:
        assert word["text"] in rows[FIRST + word["frame"]]
    for frame, sounds in said.items():
        assert sounds in rows[FIRST + frame]
    silent = [number for number in rows if number - FIRST not in said]
    assert not {text for number in silent for text in rows[number]} & set(said.values())
