"""What recorders write, by EBU Tech 3285 v2 (bext), EBU Tech 3306 (RF64), ITU-R BS.2088 (BW64) and iXML.

Files are written byte by byte in `tests/waves.py`; ffmpeg writes some.
"""

import struct
import subprocess

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.ffmpeg import FFMPEG
from tests.sessions.notes import IXML, NOTHING, SOUND, WRITTEN, with_ixml
from tests.waves import bext, chunk, ds64, fmt, wave
from trackread.core.session import RecorderNotes
from trackread.core.timebase import parse_rate
from trackread.core.timecode import label_of_sample
from trackread.errors import SoundError
from trackread.sessions.recorder import Noted, recorder_notes


def with_bext(**fields):
    return chunk(b"bext", bext(**fields))


class TestTimeReference:
    # EBU Tech 3285: samples from midnight at the file's rate; the labels are exact maths, SMPTE ST 12-1.
    @pytest.mark.parametrize(
        ("rate", "reference", "name", "label", "left_over"),
        [
            (48000, 172800000, "24", "01:00:00:00", 0),
            (48000, 1729002000, "24", "10:00:20:21", 0),
            (48000, 172972800, "23.976", "01:00:00:00", 0),
            (48000, 172800000, "23.976", "00:59:56:09", 1374),
            (48000, 172972800, "29.97", "01:00:00:00", 0),
            (48000, 172800000, "29.97df", "01:00:00;00", 172.8),
            (44100, 158760000, "25", "01:00:00:00", 0),
            (96000, 345600000, "25", "01:00:00:00", 0),
            (48000, 4294967296, "24", "00:51:18:11", 1296),
            (192000, 16588608000, "24", "23:59:59:00", 0),
        ],
    )
    @pytest.mark.parametrize("form", [b"RIFF", b"RF64", b"BW64"])
    def test_the_first_sample_has_its_timecode(self, noted, form, rate, reference, name, label, left_over):
        start = noted(with_bext(reference=reference), form=form, rate=rate).start
        found, rest = label_of_sample(start, rate, parse_rate(name))

        assert start == reference
        assert (found, float(rest)) == (label, left_over)

    def test_more_than_a_day_is_told_and_begins_again(self, noted):
        found = noted(with_bext(reference=2**32))

        assert found.start == 2**32
        assert found.remarks == (
            "bext TimeReference 4294967296 is more than a day: timecode begins again at 00:00:00:00",
        )

    def test_the_last_seconds_before_midnight_at_23_976_are_within_the_day(self, noted):
        """A day of 2073600 labels at 24000/1001 lasts 86486.4 s (exact maths)."""
        reference = 48000 * 86486
        found = noted(with_bext(reference=reference))

        assert found.remarks == ()
        assert label_of_sample(found.start, 48000, parse_rate("23.976"))[0] == "23:59:59:14"

    @pytest.mark.parametrize("reference", [2**63, 2**64 - 1, 48000 * 86400 * 2 + 1])
    def test_what_no_clock_can_have_shown_is_dropped(self, noted, reference):
        found = noted(with_bext(reference=reference))

        assert found.start == 0
        assert found.remarks == (
            f"bext TimeReference {reference} is no time of day at 48000 samples a second: left out",
        )

    def test_a_reference_that_lacks_its_high_bytes_is_no_reference(self, noted):
        found = noted(chunk(b"bext", bext(reference=172800000)[:342]))

        assert found.start == 0
        assert found.remarks == ("bext has 342 of the 602 bytes that it should: what lay in the others is missing",)

    def test_a_file_without_a_sample_rate_has_no_time(self, tmp_path):
        path = tmp_path / "session.wav"
        path.write_bytes(wave(SOUND, fmt=b"", before=with_bext(reference=48000)))

        assert recorder_notes(path).start == 0


class TestBext:
    def test_the_fields_lie_where_the_standard_has_them(self, noted):
        """EBU Tech 3285 v2: at bytes 0, 256, 320, 330 and 338."""
        found = noted(
            with_bext(description=b"Tram stop", originator=b"Owl", date=b"2026-11-25", time=b"09:30:05", reference=7)
        )

        assert found == Noted(
            RecorderNotes(description="Tram stop", originator="Owl", date="2026-11-25", time="09:30:05"), 7, ()
        )

    def test_texts_that_fill_their_fields_have_no_nul(self, noted):
        """EBU Tech 3285."""
        notes = noted(with_bext(description=b"d" * 256, originator=b"o" * 32)).notes

        assert (notes.description, notes.originator) == ("d" * 256, "o" * 32)

    def test_what_stands_after_a_nul_is_not_read(self, noted):
        assert noted(with_bext(description=b"Tram\0\xff\x01rest")).notes.description == "Tram"

    @pytest.mark.parametrize("version", [0, 1, 2, 999])
    @pytest.mark.parametrize("history", [b"", b"A", b"A=PCM,F=48000\r\n", b"\xff" * 31])
    def test_versions_and_histories_of_any_length_change_nothing(self, noted, version, history):
        found = noted(with_bext(description=b"Tram", reference=9, version=version, history=history))

        assert (found.notes.description, found.start, found.remarks) == ("Tram", 9, ())

    @pytest.mark.parametrize("form", [b"RIFF", b"RF64", b"BW64"])
    @pytest.mark.parametrize("where", ["before", "after"])
    def test_chunks_stand_in_any_order(self, noted, form, where):
        chunks = with_bext(reference=9) + with_ixml(IXML)
        found = noted(chunks, form=form) if where == "before" else noted(after=chunks, form=form)

        assert (found.start, found.notes) == (9, WRITTEN)

    @pytest.mark.parametrize("form", [b"RIFF", b"RF64"])
    def test_a_chunk_of_odd_length_without_its_pad_byte_hides_nothing(self, noted, form):
        found = noted(chunk(b"bext", bext(reference=9, history=b"A"), pad=False), with_ixml(IXML), form=form)

        assert (found.start, found.notes) == (9, WRITTEN)

    @pytest.mark.parametrize("mark", [b"-", b":", b"/", b" ", b"_", b"\xb7"])
    def test_a_date_and_a_time_have_any_separators(self, noted, mark):
        """EBU Tech 3285 names several."""
        found = noted(with_bext(date=mark.join([b"2026", b"11", b"25"]), time=mark.join([b"23", b"59", b"58"])))

        assert (found.notes.date, found.notes.time) == ("2026-11-25", "23:59:58")

    @pytest.mark.parametrize(
        "date", [b"0000-00-00", b"2026-02-30", b"2026-13-01", b"25-11-2026", b"20261125", b"today"]
    )
    def test_a_day_that_does_not_exist_is_dropped(self, noted, date):
        found = noted(with_bext(date=date, time=b"12:00:00"))

        assert (found.notes.date, found.notes.time) == ("", "12:00:00")
        assert found.remarks == (f"bext date {date.decode()!r} does not exist: left out",)

    @pytest.mark.parametrize("time", [b"24:00:00", b"12:60:00", b"12:00:61", b"1:2:3", b"noon"])
    def test_a_time_that_does_not_exist_is_dropped(self, noted, time):
        found = noted(with_bext(time=time))

        assert found.notes.time == ""
        assert found.remarks == (f"bext time {time.decode()!r} does not exist: left out",)

    @pytest.mark.parametrize(
        ("written", "read", "remark"),
        [
            ("Straße".encode(), "Straße", ()),
            ("Straße".encode("cp1252"), "Straße", ("is neither ASCII nor UTF-8: read as Windows-1252",)),
            (b"\x81\x8d", "", ("is no text: left out",)),
            (b"ab\x07cd", "", ("has control characters: left out",)),
            (b"two\r\nlines ", "two\r\nlines", ()),
            (b"   ", "", ()),
        ],
    )
    def test_texts_that_are_no_ascii_are_read_if_they_can_be(self, noted, written, read, remark):
        found = noted(with_bext(description=written))

        assert found.notes.description == read
        assert found.remarks == tuple(f"bext Description {text}" for text in remark)

    def test_an_empty_chunk_says_nothing(self, noted):
        assert noted(chunk(b"bext", b"")) == NOTHING

    def test_of_two_the_first_counts(self, noted):
        assert noted(with_bext(reference=1), with_bext(reference=2)).start == 1


class TestFiles:
    @pytest.mark.parametrize("content", [b"", b"R", b"RIFF", b"fLaC" + bytes(100), b"FORM\0\0\0\0AIFF" + bytes(100)])
    def test_what_is_no_wave_file_has_no_notes(self, tmp_path, content):
        path = tmp_path / "session"
        path.write_bytes(content)

        assert recorder_notes(path) == NOTHING

    def test_a_plain_wave_file_has_none(self, noted):
        assert noted() == NOTHING

    def test_a_file_that_is_not_there_is_named(self, tmp_path):
        with pytest.raises(SoundError, match=r"gone[.]wav: cannot be opened: No such file or directory$"):
            recorder_notes(tmp_path / "gone.wav")

    @pytest.mark.parametrize("length", [0, 0x7FFFF000, 0xFFFFF000, 0xFFFFFFFF, 10**6])
    def test_notes_before_the_sound_outlive_a_power_failure(self, noted, length):
        found = noted(with_bext(reference=9), with_ixml(IXML), length=length)

        assert (found.start, found.notes) == (9, WRITTEN)

    def test_a_long_ixml_has_its_length_in_the_table_of_ds64(self, tmp_path):
        """EBU Tech 3306: every chunk whose length reads FFFFFFFF."""
        text = IXML.encode()
        table = ds64(len(SOUND), table=[(b"iXML", len(text)), (b"rest", 5)])
        body = table + fmt() + chunk(b"iXML", text, length=0xFFFFFFFF) + chunk(b"data", SOUND, length=0xFFFFFFFF)
        path = tmp_path / "session.wav"
        path.write_bytes(b"RF64" + struct.pack("<I", 0xFFFFFFFF) + b"WAVE" + body)

        assert recorder_notes(path).notes == WRITTEN


class TestAnything:
    @settings(max_examples=300, suppress_health_check=[HealthCheck.function_scoped_fixture])
    @given(content=st.binary(max_size=700), name=st.sampled_from([b"bext", b"iXML", b"ds64"]))
    def test_no_bytes_in_a_chunk_make_it_fail(self, noted, content, name):
        found = noted(chunk(name, content), form=b"RF64")

        assert all(found.remarks)
        assert 0 <= found.start <= 2 * 86400 * 48000

    @settings(max_examples=300, suppress_health_check=[HealthCheck.function_scoped_fixture])
    @given(data=st.data())
    def test_no_change_of_a_text_makes_it_fail(self, noted, data):
        raw = bytearray(data.draw(st.sampled_from([IXML.encode(), IXML.encode("utf-16"), bext(date=b"2026-11-25")])))
        for _ in range(data.draw(st.integers(1, 5))):
            first = data.draw(st.integers(0, len(raw) - 1))
            raw[first : first + data.draw(st.integers(0, 3))] = data.draw(st.binary(max_size=3))
        chunks = [chunk(name, bytes(raw)) for name in (b"bext", b"iXML")]

        assert all(noted(*chunks).remarks)

    def test_a_file_cut_at_any_byte_is_read(self, tmp_path):
        whole = wave(SOUND, before=with_bext(reference=9, date=b"2026-11-25"), after=with_ixml(IXML))
        path = tmp_path / "session.wav"
        for length in range(len(whole)):
            path.write_bytes(whole[:length])

            assert recorder_notes(path).start in (0, 9)


class TestFfmpeg:
    @pytest.mark.parametrize("rf64", ["never", "always"])
    def test_what_ffmpeg_writes_is_read(self, tmp_path, rf64):
        path = tmp_path / "session.wav"
        fields = {"description": "Tram stop", "originator": "Owl", "time_reference": "172800000"}
        dates = {"origination_date": "2026-11-25", "origination_time": "09:30:05"}
        asked = [word for name, value in {**fields, **dates}.items() for word in ("-metadata", f"{name}={value}")]
        source = ["-f", "lavfi", "-i", "sine=sample_rate=48000:duration=1"]
        subprocess.run(
            [FFMPEG, "-v", "error", *source, *asked, "-write_bext", "1", "-rf64", rf64, str(path)], check=True
        )

        assert recorder_notes(path) == Noted(
            RecorderNotes(description="Tram stop", originator="Owl", date="2026-11-25", time="09:30:05"), 172800000, ()
        )
