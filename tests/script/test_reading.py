"""Files of every kind to scripts, and files that are none."""

import hashlib

import pytest

from tests.script.makers import a_script
from trackread.errors import ScriptError
from trackread.script.reading import read_script

FOUNTAIN = "INT. TRAM #7#\n\nTUM\nI am only a hat.\n\nBRACK (O.S.)\nNo.\n"
PLAIN = "# 7 INT. TRAM\n\nTUM: I am only a hat.\nBRACK (O.S.): No.\n"
TABLE = "Line,SCENE,Character\nI am only a hat.,7,TUM\nNo.,7,BRACK (O.S.)\n"
SAID = [("7", "TUM", "I am only a hat.", ""), ("7", "BRACK", "No.", "O.S.")]


def a_file(folder, name, content):
    path = folder / name
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def said(script):
    return [(line.scene, line.character, line.text, line.extension) for line in script.lines]


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("tram.fountain", FOUNTAIN),
        ("tram.FOUNTAIN", FOUNTAIN),
        ("tram.txt", FOUNTAIN),
        ("tram", FOUNTAIN),
        ("tram.txt", PLAIN),
        ("tram.md", PLAIN),
        ("tram.csv", TABLE),
        ("tram.tsv", TABLE.replace(",", "\t")),
        ("tram.csv", TABLE.replace(",", ";")),
    ],
)
def test_every_kind_of_file_gives_the_same_lines(tmp_path, name, text):
    script = read_script(a_file(tmp_path, name, text))

    assert said(script) == SAID
    assert script.title == "tram"
    assert [line.id for line in script.lines] == ["L0001", "L0002"]


@pytest.mark.parametrize("text", [FOUNTAIN, PLAIN, TABLE])
@pytest.mark.parametrize("end", ["\r\n", "\r"])
def test_line_ends_and_a_byte_order_mark_change_nothing(tmp_path, text, end):
    suffix = {FOUNTAIN: ".fountain", PLAIN: ".txt", TABLE: ".csv"}[text]
    plain = read_script(a_file(tmp_path, f"tram{suffix}", text))
    marked = read_script(a_file(tmp_path, f"tram{suffix}", b"\xef\xbb\xbf" + text.replace("\n", end).encode()))

    assert marked == plain
    assert plain.digest == hashlib.sha256(text.encode()).hexdigest()


@pytest.mark.parametrize("odd", "\v\f\x1c\x85\u2028")
def test_lines_are_counted_as_an_editor_counts_them(tmp_path, odd):
    script = read_script(a_file(tmp_path, "tram.fountain", f"Rain{odd}falls.\n\nTUM\nA{odd}hat.\n"))

    assert [(line.source_line, line.text) for line in script.lines] == [(3, "A hat.")]


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"TUM\nA caf\xe9 hat.\n", r"tram\.fountain:2: byte 9 \(0xE9\) is not UTF-8: save the file as UTF-8"),
        (b"TUM\r\nA caf\xe9 hat.\r\n", r"tram\.fountain:2: byte 10 \(0xE9\) is not UTF-8"),
        (b"TUM\rA caf\xe9 hat.\r", r"tram\.fountain:2: byte 9 \(0xE9\) is not UTF-8"),
        (b"\xef\xbb\xbfTUM\nA caf\xe9 hat.\n", r"tram\.fountain:2: byte 12 \(0xE9\) is not UTF-8"),
        ("TUM\nA hat.\n".encode("utf-16"), r"tram\.fountain:1: is UTF-16 text, from byte 0: save it as UTF-8"),
        (b"TUM\nA\0hat.\n", r"tram\.fountain:2: byte 5 \(0x00\) is no text"),
        (b"\xef\xbb\xbfTUM\nA\0hat.\n", r"tram\.fountain:2: byte 8 \(0x00\) is no text"),
    ],
)
def test_what_is_no_utf_8_text_is_told_with_its_byte_and_line(tmp_path, content, told):
    with pytest.raises(ScriptError, match=told):
        read_script(a_file(tmp_path, "tram.fountain", content))


def test_a_file_that_cannot_be_opened_is_told(tmp_path):
    with pytest.raises(ScriptError, match="cannot be read: No such file"):
        read_script(tmp_path / "none.fountain")
    with pytest.raises(ScriptError, match="cannot be read: Is a directory"):
        read_script(tmp_path)


@pytest.mark.parametrize("name", ["tram.pdf", "tram.docx", "tram.wav"])
def test_a_kind_of_file_that_is_no_script_is_told_with_those_that_are(tmp_path, name):
    with pytest.raises(ScriptError, match=r"no script that can be read: export it as Fountain"):
        read_script(a_file(tmp_path, name, FOUNTAIN))


def test_a_plain_script_with_a_faulty_row_is_told_as_plain(tmp_path):
    with pytest.raises(ScriptError, match=r"tram\.txt:2: 'No\.' does not say who speaks"):
        read_script(a_file(tmp_path, "tram.txt", "TUM: I am only a hat.\nNo.\nTUM: Yes.\n"))


def test_a_script_of_ten_thousand_lines_has_them_all(tmp_path):
    text = "".join(f"TUM\nHat number {number}.\n\n" for number in range(10_000))
    script = read_script(a_file(tmp_path, "tram.fountain", text))

    assert [line.text for line in script.lines] == [f"Hat number {number}." for number in range(10_000)]
    assert script.lines[-1].id == "L10000"


def test_a_maker_makes_what_is_read(tmp_path):
    read = read_script(a_file(tmp_path, "tram.txt", PLAIN.replace(" (O.S.)", "")))

    assert said(a_script([(scene, character, text) for scene, character, text, _ in SAID])) == said(read)
