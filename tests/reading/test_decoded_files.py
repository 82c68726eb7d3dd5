"""FLAC and AIFF in pieces, whole and broken; libsndfile writes them."""

import pytest

from tests.reading.wholes import all_of, refusal_of
from tests.waves import noise
from trackread.errors import SoundError
from trackread.reading.long_recordings import open_recording


class TestDecodedFiles:
    @pytest.mark.parametrize(("name", "subtype"), [("a.flac", "PCM_16"), ("a.flac", "PCM_24"), ("a.aiff", "PCM_24")])
    def test_pieces_are_what_was_written_there(self, saved, name, subtype):
        samples = noise(300000, 2)
        recording = open_recording(saved(samples, name, subtype=subtype))

        assert recording.format.remarks == ()
        assert (recording.format.frames, recording.format.subtype) == (300000, subtype)
        assert recording.piece(12345, 298765, 2) == pytest.approx(samples[12345:298765, 1], abs=2**-15)

    @pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.77, 0.999])
    @pytest.mark.parametrize("name", ["a.flac", "a.aiff"])
    def test_a_file_cut_short_is_read_as_far_as_it_goes(self, saved, name, share):
        samples = noise(100000)
        path = saved(samples, name)
        path.write_bytes(path.read_bytes()[: int(share * path.stat().st_size)])
        recording = open_recording(path)
        frames = recording.format.frames

        # A FLAC frame of libFLAC has 4096 samples: of the last one nothing can be read.
        assert share * 100000 - 2 * 4096 < frames < share * 100000 + 2
        assert recording.format.remarks[0].startswith("ends early: its header promises")
        assert recording.piece(0, frames) == pytest.approx(samples[:frames], abs=2**-15)

    @pytest.mark.parametrize("share", [0.5, 1])
    def test_a_flac_that_never_learnt_its_length_is_read_as_far_as_it_goes(self, saved, share):
        """RFC 9639: 0 samples in STREAMINFO means that it is not known."""
        samples = noise(100000)
        path = saved(samples, "a.flac")
        content = bytearray(path.read_bytes())
        content[21] &= 0xF0
        content[22:26] = bytes(4)
        path.write_bytes(content[: int(share * len(content))])
        recording = open_recording(path)
        frames = recording.format.frames

        assert share * 100000 - 2 * 4096 < frames <= 100000
        assert recording.format.remarks == (
            f"its header does not say how long it is: {frames} samples can be read, slowly, so save it anew",
        )
        assert recording.piece(0, frames) == pytest.approx(samples[:frames], abs=2**-15)
        assert recording.piece(12345, frames) == pytest.approx(samples[12345:frames], abs=2**-15)

    @pytest.mark.parametrize("name", ["a.flac", "a.aiff"])
    def test_one_cut_at_any_byte_is_saved_or_refused(self, saved, name):
        samples = noise(10000)
        path = saved(samples, name)
        whole = path.read_bytes()
        saved_once = False
        for length in (*range(400), *range(400, len(whole), 97)):
            path.write_bytes(whole[:length])
            refusal = refusal_of(path)

            assert refusal is None or f"{name}: " in refusal
            if refusal is None:
                piece = all_of(path)
                assert open_recording(path).format.remarks
                assert piece == pytest.approx(samples[: len(piece)], abs=2**-15)
                saved_once = True
        assert saved_once

    def test_a_damaged_middle_spoils_only_the_pieces_it_lies_in(self, saved):
        path = saved(noise(100000), "a.flac")
        content = bytearray(path.read_bytes())
        content[len(content) // 2] ^= 0xFF
        path.write_bytes(content)
        recording = open_recording(path)

        assert recording.piece(0, 40000) == pytest.approx(noise(100000)[:40000], abs=2**-15)
        assert recording.piece(60000, 100000) == pytest.approx(noise(100000)[60000:], abs=2**-15)
        with pytest.raises(SoundError, match="ends early or is damaged"):
            recording.piece(40000, 60000)

    def test_a_file_that_is_gone_is_told(self, saved):
        path = saved(noise(1000), "a.flac")
        recording = open_recording(path)
        path.unlink()

        with pytest.raises(SoundError, match=r"a[.]flac: "):
            recording.piece(0, 100)
