"""Wave files, whole and broken, by EBU Tech 3285, EBU Tech 3306 (RF64) and ITU-R BS.2088 (BW64).

Independent readers: libsndfile, and ffmpeg.
"""

import itertools
import struct
import subprocess

import numpy as np
import pytest
import soundfile

from tests.ffmpeg import FFMPEG
from tests.reading.wholes import all_of, refusal_of
from tests.waves import KINDS, LONG, bext, chunk, encoded, fmt, noise, wave
from trackread.errors import SoundError
from trackread.reading.long_recordings import open_recording

STEPS = {"PCM_U8": 2**-8, "PCM_16": 2**-16, "PCM_24": 2**-24, "PCM_32": 2**-24, "FLOAT": 2**-25, "DOUBLE": 2**-25}


class TestWaves:
    @pytest.mark.parametrize("form", [b"RIFF", b"RF64", b"BW64"])
    @pytest.mark.parametrize("extensible", [False, True])
    @pytest.mark.parametrize("subtype", KINDS)
    def test_every_kind_of_samples_is_read_as_written(self, saved, form, extensible, subtype):
        samples = noise(5000)
        recording = open_recording(
            saved(wave(encoded(samples, subtype), form=form, fmt=fmt(subtype=subtype, extensible=extensible)))
        )

        assert (recording.format.sample_rate, recording.format.channels) == (48000, 1)
        assert (recording.format.frames, recording.format.subtype) == (5000, subtype)
        assert recording.format.remarks == ()
        assert recording.piece(0, 5000).dtype == np.float32
        assert np.abs(recording.piece(0, 5000) - samples).max() <= STEPS[subtype]

    @pytest.mark.parametrize("form", ["WAV", "WAVEX", "RF64"])
    @pytest.mark.parametrize("channels", [1, 2, 3])
    @pytest.mark.parametrize("subtype", KINDS)
    def test_a_piece_is_what_libsndfile_reads_there(self, saved, form, channels, subtype):
        path = saved(noise(7000, channels, peak=0.5), format=form, subtype=subtype)
        read = soundfile.read(path, start=1234, stop=6789, dtype="float32", always_2d=True)[0]

        for channel in range(channels):
            assert (open_recording(path).piece(1234, 6789, channel + 1) == read[:, channel]).all()

    @pytest.mark.parametrize("history", [b"", b"A", b"A=PCM,F=48000,W=24\r\n", b"A" * 27])
    @pytest.mark.parametrize("form", [b"RIFF", b"RF64", b"BW64"])
    def test_chunks_of_any_length_before_the_sound_hide_nothing(self, saved, form, history):
        samples = noise(500)
        before = chunk(b"bext", bext(history=history)) + chunk(b"junk", bytes(13)) + chunk(b"abcd", b"")
        path = saved(wave(encoded(samples), form=form, before=before, after=chunk(b"LIST", b"INFO")))

        assert open_recording(path).format.remarks == ()
        assert all_of(path) == pytest.approx(samples, abs=2**-15)

    def test_the_description_of_samples_may_stand_behind_them(self, saved):
        path = saved(wave(encoded(noise(500)), fmt=b"", after=fmt()))

        assert all_of(path) == pytest.approx(noise(500), abs=2**-15)

    def test_twenty_bits_lie_in_three_bytes(self, saved):
        """WAVE_FORMAT_EXTENSIBLE: wValidBitsPerSample of the container's bits, from the highest down."""
        described = bytearray(fmt(subtype="PCM_24", extensible=True))
        described[26:28] = struct.pack("<H", 20)
        described[22:24] = struct.pack("<H", 20)

        assert all_of(saved(wave(encoded(noise(500), "PCM_24"), fmt=bytes(described)))) == pytest.approx(
            noise(500), abs=2**-23
        )

    @pytest.mark.parametrize("codec", ["pcm_u8", "pcm_s16le", "pcm_s24le", "pcm_s32le", "pcm_f32le", "pcm_f64le"])
    @pytest.mark.parametrize("how", [[], ["-rf64", "always"], ["-write_bext", "1", "-metadata", "description=Tram"]])
    def test_files_of_ffmpeg_are_read_as_ffmpeg_reads_them(self, tmp_path, codec, how):
        path = tmp_path / "session.wav"
        source = ["-f", "lavfi", "-i", "sine=440:sample_rate=48000:duration=0.5"]
        subprocess.run([FFMPEG, "-v", "error", *source, "-ac", "2", "-c:a", codec, *how, str(path)], check=True)
        raw = subprocess.run(
            [FFMPEG, "-v", "error", "-i", str(path), "-f", "f32le", "-c:a", "pcm_f32le", "-"],
            check=True,
            capture_output=True,
        ).stdout
        samples = np.frombuffer(raw, "<f4").reshape(-1, 2)

        assert open_recording(path).format.remarks == ()
        assert all_of(path, 2) == pytest.approx(samples[:, 1], abs=1e-7)

    def test_what_ffmpeg_writes_to_a_pipe_is_read_to_its_end(self, tmp_path):
        """Its lengths read FFFFFFFF, since a pipe cannot be filled in."""
        source = ["-f", "lavfi", "-i", "sine=440:sample_rate=48000:duration=0.5"]
        path = tmp_path / "session.wav"
        path.write_bytes(
            subprocess.run([FFMPEG, "-v", "error", *source, "-f", "wav", "-"], check=True, capture_output=True).stdout
        )

        assert open_recording(path).format.frames == 24000
        assert "does not say how long it is" in open_recording(path).format.remarks[0]


class TestBrokenWaves:
    @pytest.mark.parametrize("form", [b"RIFF", b"RF64", b"BW64"])
    @pytest.mark.parametrize("subtype", ["PCM_16", "PCM_24", "FLOAT"])
    def test_power_lost_while_writing_leaves_what_was_written(self, saved, form, subtype):
        samples = noise(1000)
        sound = encoded(samples, subtype)
        whole = wave(sound, form=form, fmt=fmt(subtype=subtype))
        recording = open_recording(saved(whole[:-101]))
        there = (len(sound) - 101) * 1000 // len(sound)

        assert recording.format.remarks == (
            f"ends early: its header promises {len(sound)} bytes and {len(sound) - 101} are there",
        )
        assert recording.format.frames == there
        assert recording.piece(0, there) == pytest.approx(samples[:there], abs=2**-15)

    # RIFF gives a length 32 bits; what cannot go back to fill it in leaves one of these (common practice, no source).
    @pytest.mark.parametrize("length", [0, 0xFFFFFFFF, 0xFFFFFFFE, 0xFFFFF000, 0x7FFFFFFF, 0x7FFFF000])
    @pytest.mark.parametrize("form", [b"RIFF", b"RF64"])
    def test_a_length_that_was_never_filled_in_is_the_rest_of_the_file(self, saved, form, length):
        content = bytearray(wave(encoded(noise(1000)), form=form, length=length))
        if form == b"RF64":
            content[20:44] = bytes(24)  # ds64 was kept free
        recording = open_recording(saved(bytes(content)))

        assert recording.format.remarks == ("its header does not say how long it is: read to the end of the file",)
        assert recording.piece(0, 1000) == pytest.approx(noise(1000), abs=2**-15)

    @pytest.mark.parametrize("after", [b"", chunk(b"iXML", b"<BWFXML/>")])
    def test_a_length_of_nothing_before_other_chunks_is_true(self, saved, after):
        with pytest.raises(SoundError, match="holds no samples"):
            open_recording(saved(wave(b"", after=after)))

    def test_rf64_without_its_lengths_is_read_to_the_end(self, saved):
        body = b"WAVE" + fmt() + chunk(b"data", encoded(noise(1000)), length=LONG)
        recording = open_recording(saved(b"RF64" + struct.pack("<I", LONG) + body))

        assert recording.format.frames == 1000
        assert "does not say how long it is" in recording.format.remarks[0]

    @pytest.mark.parametrize("form", [b"RIFF", b"RF64"])
    def test_a_missing_pad_byte_is_told_and_hides_nothing(self, saved, form):
        before = chunk(b"bext", bext(history=b"A"), pad=False)
        recording = open_recording(saved(wave(encoded(noise(1000)), form=form, before=before)))

        assert recording.format.remarks == ("no pad byte after its odd chunk 'bext'",)
        assert recording.piece(0, 1000) == pytest.approx(noise(1000), abs=2**-15)

    @pytest.mark.parametrize("pad", [False, True])
    def test_the_last_byte_that_makes_a_length_even_may_be_left_out(self, saved, pad):
        path = saved(wave(encoded(noise(333), "PCM_24"), fmt=fmt(subtype="PCM_24"), pad=pad))

        assert open_recording(path).format.remarks == ()
        assert open_recording(path).format.frames == 333

    def test_sound_that_no_chunk_holds_is_told(self, saved):
        """A recorder that fills its lengths in from time to time, and lost power."""
        path = saved(wave(encoded(noise(1000)), length=1200))

        assert open_recording(path).format.frames == 600
        assert open_recording(path).format.remarks == (
            "800 bytes after its last chunk 'data' are in none and were left",
        )

    @pytest.mark.parametrize(
        ("content", "words"),
        [
            (wave(bytes(100), fmt=b""), "no chunk in it says what its samples are"),
            (wave(bytes(100), fmt=chunk(b"fmt ", bytes(10))), "what says how its samples are written is cut off"),
            (wave(b""), "holds no samples"),
            (wave(bytes(1)), "holds no samples"),
            (wave(bytes(100), fmt=fmt(channels=0)), "its samples are of format 1 with 16 bits in 0 channels"),
            (wave(bytes(100), fmt=fmt(rate=0)), "has 0 samples a second: those of 8000 to 768000 can be read"),
            (wave(bytes(100), fmt=fmt(rate=2**30)), "has 1073741824 samples a second"),
        ],
    )
    def test_what_cannot_be_saved_says_why(self, saved, content, words):
        with pytest.raises(SoundError, match=rf"session[.]wav: .*{words}"):
            open_recording(saved(content))

    @pytest.mark.parametrize(
        ("subtype", "named"), [("IMA_ADPCM", "ADPCM"), ("MS_ADPCM", "ADPCM"), ("ULAW", "mu-law"), ("GSM610", "GSM")]
    )
    def test_compressed_samples_are_refused_by_name(self, saved, subtype, named):
        with pytest.raises(SoundError, match=rf"its samples are {named} in 1 channels\): save it as PCM"):
            open_recording(saved(noise(1000), rate=8000, subtype=subtype))

    @pytest.mark.parametrize("form", [b"RIFF", b"RF64", b"BW64"])
    def test_a_file_cut_at_any_byte_is_saved_or_refused(self, saved, form):
        before = chunk(b"bext", bext(history=b"A")[560:])
        whole = wave(encoded(noise(40)), form=form, before=before, after=chunk(b"iXML", b"<BWFXML/>"))
        sound = whole.index(b"data") + 8
        for length in range(len(whole)):
            path = saved(whole[:length])
            if length < sound + 2:
                with pytest.raises(SoundError, match=r"session[.]wav: "):
                    open_recording(path)
            else:
                recording = open_recording(path)
                frames = min(40, (length - sound) // 2)

                assert recording.format.frames == frames
                assert bool(recording.format.remarks) == (length not in (sound + 80, len(whole) - 1))
                assert recording.piece(0, frames) == pytest.approx(noise(40)[:frames], abs=2**-15)

    def test_no_byte_changed_makes_it_fail_otherwise(self, saved):
        whole = wave(encoded(noise(40)), form=b"RF64", before=chunk(b"bext", bext()[560:]))
        for place, value in itertools.product(range(whole.index(b"data") + 8), (0, 1, 0x7F, 0xFF)):
            changed = bytearray(whole)
            changed[place] = value
            refusal = refusal_of(saved(bytes(changed)))

            assert refusal is None or "session.wav: " in refusal

    def test_a_file_that_shrinks_while_it_is_read_is_told(self, saved):
        path = saved(wave(encoded(noise(1000))))
        recording = open_recording(path)
        path.write_bytes(path.read_bytes()[:-1000])

        with pytest.raises(SoundError, match="ends early: its header promises 1000 samples and 500 are there"):
            recording.piece(0, 1000)

    @pytest.mark.parametrize("zeros", [1, 100, 10**6])
    def test_rubbish_after_the_header_is_no_endless_row_of_chunks(self, saved, zeros):
        with pytest.raises(SoundError, match="not a sound file that can be read"):
            open_recording(saved(b"RIFF\0\0\0\0WAVE" + bytes(zeros)))
        with pytest.raises(SoundError, match="not a sound file that can be read"):
            open_recording(saved(b"RIFF\0\0\0\0WAVE" + b"JUNK\0\0\0\0" * zeros))
