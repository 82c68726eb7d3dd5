"""iXML as recorders write it and as it is found damaged; names of elements are of the iXML specification."""

import pytest

from tests.sessions.notes import IXML, NOTHING, WRITTEN, with_ixml
from tests.waves import chunk
from trackread.core.session import RecorderNotes
from trackread.sessions.recorder import Noted


class TestIxml:
    def test_all_that_is_asked_of_it_is_read(self, noted):
        assert noted(with_ixml(IXML)) == Noted(WRITTEN, 0, ())

    @pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be"])
    @pytest.mark.parametrize("rest", ["", "\0", "\0\0\0"])
    def test_it_is_read_in_any_unicode_whatever_it_declares(self, noted, encoding, rest):
        assert noted(with_ixml(IXML.replace("bell", "Straße") + rest, encoding)).notes.note == "Straße late"

    def test_windows_1252_that_calls_itself_utf_8_is_read_and_told(self, noted):
        found = noted(with_ixml(IXML.replace("bell", "Straße"), "cp1252"))

        assert found.notes.note == "Straße late"
        assert found.remarks == ("iXML is neither ASCII nor UTF-8: read as Windows-1252",)

    def test_tracks_stand_as_the_file_has_its_channels_or_as_they_are_written(self, noted):
        """INTERLEAVE_INDEX counts the channels of this file from 1 (iXML)."""
        unnumbered = IXML.replace("INTERLEAVE_INDEX", "OTHER")

        assert noted(with_ixml(IXML)).notes.tracks == ("BRACK", "MISS PELL")
        assert noted(with_ixml(unnumbered)).notes.tracks == ("MISS PELL", "BRACK")

    @pytest.mark.parametrize(
        ("change", "remark"),
        [
            (("TRUE", "perhaps"), "iXML CIRCLED is 'perhaps', not TRUE or FALSE: left out"),
            (("NDF", "drop"), "iXML TIMECODE_FLAG is 'drop', not DF or NDF: left out"),
            (("24000/1001", "24/0"), "iXML TIMECODE_RATE left out: '24/0' is not a frame rate: use one of 23.976, 24"),
            (("NDF", "DF"), "iXML TIMECODE_FLAG says drop-frame, which 24000/1001 is not: left out"),
            (("bell", "\x07"), "iXML is damaged: only what could be read of it is kept"),
            (("</SCENE>", ""), "iXML is damaged: only what could be read of it is kept"),
            (("</BWFXML>", ""), "iXML is damaged: only what could be read of it is kept"),
            (("bell", "&bell;"), "iXML is damaged: only what could be read of it is kept"),
        ],
    )
    def test_what_is_wrong_is_dropped_alone_and_told(self, noted, change, remark):
        found = noted(with_ixml(IXML.replace(*change)))

        assert found.notes.scene == "12A"
        assert len(found.remarks) == 1
        assert found.remarks[0].startswith(remark)

    @pytest.mark.parametrize("rate", ["24/1", "25/1", "24000/1001", "30000/1001", "30/1", "48/1", "60000/1001"])
    def test_every_rate_of_recorders_is_one_of_ours(self, noted, rate):
        assert noted(with_ixml(IXML.replace("24000/1001", rate))).notes.rate == rate

    def test_drop_frame_is_kept_at_a_rate_that_has_it(self, noted):
        found = noted(with_ixml(IXML.replace("24000/1001", "30000/1001").replace("NDF", "DF")))

        assert (found.notes.drop, found.remarks) == (True, ())

    @pytest.mark.parametrize(
        ("text", "remark"),
        [
            ("rubbish", "iXML is no XML: left out"),
            ("<?xml version='1.0'?>\0tram", "iXML is no XML: left out"),
            ("<!--", "iXML is no XML: left out"),
            ("<" * 1000, "iXML is no XML: left out"),
            ("<BWFXML>" + " " * 2**20, "iXML is longer than 1048576 bytes: left out"),
        ],
    )
    def test_what_is_no_xml_is_dropped_whole(self, noted, text, remark):
        assert noted(with_ixml(text)) == Noted(RecorderNotes(), 0, (remark,))

    @pytest.mark.parametrize("blank", [b"", b"\0" * 100, b" \r\n", b"\0"])
    def test_a_chunk_kept_free_says_nothing(self, noted, blank):
        assert noted(chunk(b"iXML", blank)) == NOTHING

    def test_damaged_utf_16_is_dropped(self, noted):
        chunks = chunk(b"iXML", b"\xff\xfe<\0" + b"\x00\xd8<\0")

        assert noted(chunks).remarks == ("iXML is no text: left out",)

    def test_entities_are_never_expanded(self, noted):
        bomb = "".join(f'<!ENTITY e{k} "{f"&e{k - 1};" * 10 if k else "tram"}">' for k in range(10))
        found = noted(with_ixml(f"<!DOCTYPE b [{bomb}]><BWFXML><SCENE>&e9;</SCENE></BWFXML>"))

        assert found == Noted(RecorderNotes(), 0, ("iXML has a document type, which it may not: left out",))

    def test_no_other_file_is_read(self, noted, tmp_path):
        (tmp_path / "secret").write_text("tram")
        found = noted(
            with_ixml(f'<!DOCTYPE b [<!ENTITY e SYSTEM "{tmp_path}/secret">]><BWFXML><SCENE>&e;</SCENE></BWFXML>')
        )

        assert found.notes.scene == ""
