"""Whatever `trackread read` is given: a right answer, or one clear error, status 1, and nothing written."""

import json
from pathlib import Path

import numpy as np
import pytest
import soundfile

from tests.makers import ReaderByHand
from trackread.cli.main import main
from trackread.reading.sounds import load

TRAM = Path(__file__).resolve().parent.parent.parent / "fixtures" / "late-tram"
TAKE = TRAM / "09-pell-no-ticket.flac"
LINE = "No ticket, no tram."
RATE = 16000
NOISE = np.random.default_rng(0).normal(0, 0.1, RATE)
THIRTY_WORDS = "The last tram is late again and so am I, " * 3


@pytest.fixture
def run(capsys, tmp_path):
    """Reads a take into three files and gives the status, what is told on either stream, and the files written."""

    def run(take, line=LINE, *more, reader=None):
        out = tmp_path / "out"
        out.mkdir(exist_ok=True)
        outputs = [part for name in ("sheet", "textgrid", "json") for part in (f"--{name}", str(out / name))]
        engines = {"reader": lambda _: reader} if reader else {}
        with pytest.raises(SystemExit) as left:
            main(["read", str(take), "--line", line, *outputs, *map(str, more)], **engines)
        told = capsys.readouterr()
        return left.value.code, told.out, told.err, sorted(path.name for path in out.iterdir())

    return run


@pytest.fixture
def refused(run):
    """The one line that tells why a take is refused; fails if it is not, or if anything is written."""

    def refused(*arguments, reader):
        status, told, errors, files = run(*arguments, reader=reader)

        assert (status, told, files) == (1, "", [])
        assert errors.startswith("trackread: ")
        assert errors.count("\n") == 1
        return errors

    return refused


@pytest.fixture
def words(run, tmp_path):
    """The words that are read from a take, and their first and last times in seconds."""

    def words(*arguments, reader):
        status, _, errors, files = run(*arguments, reader=reader)
        assert (status, errors, files) == (0, "", ["json", "sheet", "textgrid"])
        reading = json.loads((tmp_path / "out" / "json").read_bytes())
        times = [reading["words"][0]["start"], reading["words"][-1]["stop"]]
        return [word["text"] for word in reading["words"]], [time / reading["sample_rate"] for time in times]

    return words


def saved(folder, samples, rate=RATE, name="take.wav", **how):
    soundfile.write(folder / name, samples, rate, **how)
    return folder / name


def cut_short(path, left):
    path.write_bytes(path.read_bytes()[:left])
    return path


def written(path, content):
    path.write_bytes(content)
    return path


# Each makes a file in a folder that is no take, and says what is told of it.
NO_TAKES = {
    "missing": (lambda folder: folder / "gone.wav", "no such file"),
    "a folder": (lambda folder: folder, "is a folder"),
    "a device": (lambda _: "/dev/zero", "is a device"),
    "empty": (lambda folder: written(folder / "a.wav", b""), "the file is empty"),
    "a text": (lambda folder: written(folder / "a.wav", b"BRACK: Hold tight!\n" * 99), "not a sound file"),
    "bare samples": (lambda folder: written(folder / "a.raw", bytes(999)), "do not say what they are"),
    "half a WAV": (lambda folder: cut_short(saved(folder, NOISE), 9000), "ends early"),
    "half a FLAC": (lambda folder: cut_short(saved(folder, NOISE, name="a.flac"), 9000), "ends early"),
    "half a header": (lambda folder: cut_short(saved(folder, NOISE), 30), "not a sound file"),
    "no samples": (lambda folder: saved(folder, NOISE[:0]), "holds no samples"),
    "silent": (lambda folder: saved(folder, np.zeros(RATE)), "is silent"),
    "nearly silent": (lambda folder: saved(folder, NOISE / 5000), "is silent"),
    "an offset alone": (lambda folder: saved(folder, np.full(48000, 0.2), 48000), "is silent"),
    "all clipped": (lambda folder: saved(folder, np.sign(NOISE)), "too clipped to read"),
    "NaN": (lambda folder: saved(folder, [*NOISE, np.nan], subtype="FLOAT"), "sample 16000 is not a number"),
    "Inf": (lambda folder: saved(folder, [np.inf, *NOISE], subtype="FLOAT"), "sample 0 is not a number"),
    "two voices": (lambda folder: saved(folder, np.column_stack([NOISE, -NOISE])), "2 different channels"),
    "a slow rate": (lambda folder: saved(folder, NOISE, 4000), "4000 samples a second"),
}


@pytest.mark.parametrize(("make", "reason"), NO_TAKES.values(), ids=NO_TAKES)
def test_what_is_no_take_is_refused_by_its_name_before_it_is_heard(refused, tmp_path, make, reason):
    engines = ReaderByHand()
    take = make(tmp_path)
    errors = refused(take, reader=engines)

    assert str(take) in errors
    assert reason in errors
    assert engines.lines == []


@pytest.mark.parametrize("channel", [0, -1, 3])
def test_a_channel_that_is_not_there_is_refused(refused, tmp_path, channel):
    take = saved(tmp_path, np.column_stack([NOISE, -NOISE]))

    assert f"has no channel {channel}: it has 1 to 2" in refused(
        take, LINE, "--channel", channel, reader=ReaderByHand()
    )


BAD_LINES = {
    "": "the line '' has no words that could be spoken",
    "   ": "the line '' has no words",
    "…—!?": "the line '…—!?' has no words",
    "🙂🚋": "has no words",
    "[laughs] (sighs)": "has no words",
    "Прошу, no tram": "'Прошу,' is not written in English letters",
    "没有票": "'没有票' is not written in English letters",
    "Όχι tram": "'Όχι' is not written in English letters",
    "no " + "a" * 200: "has 200 letters: that is no word",
    "tram " * 300: "the take is too short to hold the words of its line",
    "caf\udce9": "is not UTF-8 text",
}


@pytest.mark.parametrize(("line", "reason"), BAD_LINES.items(), ids=range(len(BAD_LINES)))
def test_a_line_that_cannot_be_said_is_refused(refused, reader, line, reason):
    assert reason in refused(TAKE, line, reader=reader)


@pytest.mark.parametrize(
    ("line", "texts"),
    [
        ("NO TICKET! NO TRAM!", ["NO", "TICKET!", "NO", "TRAM!"]),
        ("“No ticket”, ‘no tram’…", ["“No", "ticket”,", "‘no", "tram’…"]),
        ("[brisk] No ticket— no (beat) tram.", ["No", "ticket—", "no", "tram."]),
        ("No 🙂 ticket🎟, nó trām.", ["No", "ticket🎟,", "nó", "trām."]),
        ("Nooo ticket — no tram.\r\n", ["Nooo", "ticket —", "no", "tram."]),
    ],
)
def test_a_line_is_read_however_it_is_written(words, reader, line, texts):
    assert words(TAKE, line, reader=reader)[0] == texts


@pytest.mark.parametrize("samples", [2, 100, 1600, 3200])
def test_a_sound_much_too_short_for_its_line_is_refused(refused, reader, tmp_path, samples):
    take = saved(tmp_path, NOISE[:samples])

    assert "the take is too short to hold the words of its line" in refused(take, THIRTY_WORDS, reader=reader)


def test_a_line_of_ten_times_the_take_is_refused(refused, reader):
    errors = refused(TAKE, " ".join([LINE] * 10), reader=reader)

    assert "too short" in errors or "does not say" in errors


@pytest.mark.parametrize("noise", [0, 3e-4], ids=["digital silence", "a quiet room"])
def test_a_take_of_ten_times_its_line_is_read_where_it_is_said(words, reader, tmp_path, noise):
    signal, rate = soundfile.read(TAKE)
    before, after = 5 * len(signal), 4 * len(signal)
    padded = np.concatenate([np.zeros(before), signal, np.zeros(after)])
    padded += noise * np.random.default_rng(0).normal(size=len(padded))
    alone = words(TAKE, LINE, reader=reader)
    found = words(saved(tmp_path, padded, rate), LINE, reader=reader)

    assert found[0] == alone[0]
    assert found[1] == pytest.approx([time + before / rate for time in alone[1]], abs=0.06)


def test_a_take_of_noise_has_no_sheet(refused, reader, tmp_path):
    assert "this take does not say" in refused(saved(tmp_path, np.tile(NOISE, 3)), LINE, reader=reader)


CHANGED = {
    "8 bits": {"subtype": "PCM_U8"},
    "24 bits": {"subtype": "PCM_24"},
    "doubles": {"subtype": "DOUBLE"},
    "AIFF": {"name": "a.aiff"},
    "OGG": {"name": "a.ogg"},
    "RF64": {"format": "RF64"},
}


@pytest.mark.parametrize("how", CHANGED.values(), ids=CHANGED)
def test_a_take_is_read_from_any_file(words, reader, tmp_path, how):
    signal, rate = soundfile.read(TAKE)
    alone = words(TAKE, LINE, reader=reader)
    found = words(saved(tmp_path, signal, rate, **how), LINE, reader=reader)

    assert found[0] == alone[0]
    assert found[1] == pytest.approx(alone[1], abs=0.03)


def test_a_take_that_is_slightly_clipped_or_has_an_offset_is_read(words, reader, tmp_path):
    signal, rate = soundfile.read(TAKE)
    signal = signal / np.abs(signal).max()
    alone = words(TAKE, LINE, reader=reader)[1]
    for samples in (np.clip(2 * signal, -1, 1), 0.4 + 0.5 * signal):
        found = words(saved(tmp_path, samples, rate), LINE, reader=reader)

        assert found[1] == pytest.approx(alone, abs=0.06)


def test_one_voice_among_eight_channels_is_read(words, reader, tmp_path):
    signal, rate = soundfile.read(TAKE)
    others = np.random.default_rng(0).normal(0, 0.1, (len(signal), 8))
    others[:, 4] = signal
    take = saved(tmp_path, others, rate)
    alone = words(TAKE, LINE, reader=reader)

    assert words(take, LINE, "--channel", 5, reader=reader) == alone
    assert words(saved(tmp_path, np.tile(signal[:, None], 8), rate), LINE, reader=reader) == alone


def test_every_fault_of_the_pronunciations_is_told_with_its_line(run, tmp_path):
    own = written(
        tmp_path / "own.txt", "\ufeffTRAM T R AE1 M\r\nPELL P EH L\r\n\r\nTUM # none\r\n42 F AO1\r\n".encode()
    )
    status, told, errors, files = run(TAKE, LINE, "--pronunciations", own)

    assert (status, told, files) == (1, "", [])
    assert errors.splitlines() == [
        f"trackread: {own}:2: 'EH': vowels carry one stress digit (0, 1 or 2), consonants none",
        f"{own}:4: 'TUM' has no phones after it",
        f"{own}:5: '42' is not one word of letters and apostrophes",
    ]


@pytest.mark.parametrize("content", [None, b"TRAM \xff\xfe"])
def test_pronunciations_that_cannot_be_read_are_named(run, tmp_path, content):
    own = tmp_path / "own.txt"
    if content:
        own.write_bytes(content)
    status, _, errors, files = run(TAKE, LINE, "--pronunciations", own)

    assert (status, files) == (1, [])
    assert errors.startswith(f"trackread: {own}: cannot be read")


def words_shown(capsys, *arguments):
    with pytest.raises(SystemExit) as left:
        main(["read", *map(str, arguments)])
    told = capsys.readouterr()
    assert (left.value.code, told.err) == (0, "")
    return told.out.splitlines()


def test_a_word_in_no_dictionary_is_marked_as_guessed_unless_the_production_lists_it(capsys, tmp_path):
    sit_down = [TRAM / "14-pell-sit-down.flac", "--line", "Sit down, small hat. Mumblethorpe is next."]
    own = written(tmp_path / "own.txt", b"Mumblethorpe M AH1 M B AH0 L TH AO0 P # as Miss Pell says it\n")
    guessed = [line for line in words_shown(capsys, *sit_down) if "(guessed)" in line]
    listed = words_shown(capsys, *sit_down, "--pronunciations", own)

    assert len(guessed) == 1
    assert "Mumblethorpe" in guessed[0]
    assert any("Mumblethorpe" in line and " m uh m b uh l th aw p " in line for line in listed)
    assert not any("(guessed)" in line for line in listed)


def test_nothing_is_left_where_a_second_reading_fails(run, reader, tmp_path):
    assert run(TAKE, LINE, reader=reader)[0] == 0
    before = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    status, _, _, files = run(TAKE, "In twenty years I have never let a passenger ride.", reader=reader)

    assert status == 1
    assert {name: (tmp_path / "out" / name).read_bytes() for name in files} == before
    assert load(TAKE).seconds == pytest.approx(53400 / 24000)
