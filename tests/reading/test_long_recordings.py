"""Recordings of sessions, read in pieces and longer than 4 GB; the layout of RF64 is EBU Tech 3306's."""

import hashlib
import struct
import tracemalloc

import numpy as np
import pytest
import soundfile

from tests.reading.wholes import all_of
from tests.waves import LONG, bext, chunk, ds64, encoded, fmt, noise, wave
from trackread.core.sound import Sound
from trackread.errors import SoundError
from trackread.reading.long_recordings import levels, open_recording
from trackread.reading.sounds import RATE, load

WHOLE = Sound("ab" * 32, 48000, 48000 * 3600, 1000)


class TestChannels:
    def test_like_channels_are_heard_as_one(self, saved):
        samples = noise(1000)

        assert all_of(saved(np.tile(samples[:, None], 3))) == pytest.approx(samples, abs=2**-15)

    @pytest.mark.parametrize("name", ["a.wav", "a.flac"])
    def test_of_different_channels_one_must_be_chosen(self, saved, name):
        path = saved(noise(1000, 2), name)

        for read in (all_of, lambda path: levels(open_recording(path))):
            with pytest.raises(SoundError, match="has 2 different channels: choose one of 1 to 2 with --channel"):
                read(path)
        assert all_of(path, 2) == pytest.approx(noise(1000, 2)[:, 1], abs=2**-15)

    @pytest.mark.parametrize("name", ["a.wav", "a.flac"])
    def test_a_mix_is_the_mean_of_all(self, saved, name):
        samples = noise(1000, 2)

        assert all_of(saved(samples, name), mix=True) == pytest.approx(samples.mean(1), abs=2**-15)

    @pytest.mark.parametrize("channel", [-1, 0, 3])
    def test_a_channel_that_is_not_there_is_refused(self, saved, channel):
        with pytest.raises(SoundError, match=f"has no channel {channel}: it has 1 to 2$"):
            all_of(saved(noise(1000, 2)), channel)

    @pytest.mark.parametrize(("start", "stop"), [(-1, 5), (5, 5), (6, 5), (0, 1001)])
    def test_a_piece_beyond_the_recording_is_our_own_mistake(self, saved, start, stop):
        with pytest.raises(ValueError, match=f"within the 1000 samples, not from {start} to {stop}"):
            open_recording(saved(noise(1000))).piece(start, stop)

    @pytest.mark.parametrize("value", [np.nan, np.inf, -np.inf, 1e300])
    @pytest.mark.parametrize("subtype", ["FLOAT", "DOUBLE"])
    def test_a_number_that_is_no_sound_is_told_where_it_is_read(self, saved, value, subtype):
        samples = noise(500000, 2)
        samples[400000, 1] = value
        with np.errstate(over="ignore"):
            path = saved(wave(encoded(samples, subtype), fmt=fmt(channels=2, subtype=subtype)))
        recording = open_recording(path)

        assert len(recording.piece(0, 500000, 1)) == 500000
        assert len(recording.piece(0, 400000, 2)) == 400000
        for how in ({"channel": 2}, {"mix": True}):
            with pytest.raises(SoundError, match="sample 400000 is not a number that sound has"):
                recording.piece(399990, 400010, **how)

    @pytest.mark.parametrize("samples", [np.zeros(1000), np.ones(1000)])
    def test_silence_and_clipping_are_for_others_to_judge(self, saved, samples):
        assert all_of(saved(samples, subtype="FLOAT")) == pytest.approx(samples)


class TestPieces:
    @pytest.mark.parametrize("rate", [16000, 22050, 44100, 48000, 47952, 96000])
    @pytest.mark.parametrize("offset", [0, 0.4])
    def test_a_piece_at_16_khz_is_the_same_place_of_the_whole(self, saved, rate, offset):
        path = saved(noise(3 * rate) + offset, rate=rate, subtype="FLOAT")
        whole, recording = load(path).signal, open_recording(path)
        grid = rate // np.gcd(rate, RATE)
        for first, last in [(0, rate), (rate // grid * grid // 2 // grid * grid, 2 * rate), (2 * rate, 3 * rate)]:
            start = first // grid * grid
            signal = recording.piece_at_16k(start, last, whole=WHOLE).signal
            place = start * RATE // rate

            assert len(signal) == -(-(2 * (last - start) * RATE - rate) // (2 * rate))
            assert np.abs(signal - whole[place : place + len(signal)]).max() < 1e-4

    def test_its_first_sample_is_where_the_piece_begins(self, saved):
        """A sine is known at every place: between the samples at 16 kHz of the whole too."""
        times = np.arange(48000 * 2) / 48000
        recording = open_recording(saved(0.5 * np.sin(2 * np.pi * 440 * times), subtype="FLOAT"))
        for start in (20000, 20001, 20002):
            signal = recording.piece_at_16k(start, start + 48000, whole=WHOLE).signal

            assert signal == pytest.approx(
                0.5 * np.sin(2 * np.pi * 440 * (start / 48000 + np.arange(RATE) / RATE)), abs=1e-4
            )

    def test_it_is_known_by_the_whole_file_and_its_own_place(self, saved):
        recording = open_recording(saved(noise(48000)))
        piece = recording.piece_at_16k(4800, 9600, whole=WHOLE)

        assert piece.sound == Sound(WHOLE.digest, 48000, 4800, 5800)
        assert piece.seconds == 0.1
        assert len(piece.signal) == 1600

    def test_the_whole_is_known_by_its_bytes(self, saved):
        path = saved(noise(1000))

        assert open_recording(path).sound(500) == Sound(hashlib.sha256(path.read_bytes()).hexdigest(), 48000, 1000, 500)

    @pytest.mark.parametrize("form", [b"RF64", b"BW64"])
    def test_a_take_that_libsndfile_refuses_is_loaded(self, saved, form):
        before = chunk(b"bext", bext(history=b"A"))
        path = saved(wave(encoded(noise(48000)), form=form, before=before))
        with pytest.raises(soundfile.LibsndfileError):
            soundfile.SoundFile(path)

        assert (load(path).signal == load(saved(wave(encoded(noise(48000))))).signal).all()

    def test_a_take_that_ends_early_is_refused_all_the_same(self, saved):
        with pytest.raises(SoundError, match="ends early: its header promises 96000 bytes and 95000 are there"):
            load(saved(wave(encoded(noise(48000)), form=b"BW64")[:-1000]))


class TestLevels:
    @pytest.mark.parametrize("rate", [8000, 11025, 22050, 44100, 48000, 47951])
    @pytest.mark.parametrize("seconds", [0.01, 0.02, 7.013])
    def test_a_row_is_the_root_mean_square_of_its_20_ms(self, saved, rate, seconds):
        samples = noise(int(rate * seconds))
        found = levels(open_recording(saved(samples, rate=rate, subtype="FLOAT")))
        edges = [k * rate // 50 for k in range(1000) if k * rate // 50 < len(samples)]
        rows = np.split(samples, edges[1:])

        assert found.dtype == np.float32
        assert found == pytest.approx([np.sqrt(np.mean(row**2)) for row in rows], rel=1e-5)

    @pytest.mark.parametrize(
        ("how", "heard"), [({"channel": 1}, [1, 0]), ({"channel": 2}, [0, 1]), ({"mix": True}, [0.5, 0.5])]
    )
    def test_it_is_that_of_what_is_heard(self, saved, how, heard):
        samples = np.tile([0.5, 0.1], (4800, 1))

        assert levels(open_recording(saved(samples)), **how) == pytest.approx([samples[0] @ heard] * 5, abs=1e-4)


class TestLength:
    @pytest.fixture
    def huge(self, tmp_path):
        """RF64 of 24 bits and nearly 5 hours, over 4 GB, of which only a second is written: the rest are holes."""
        frames, start = 48000 * 17000, 48000 * 16000
        size = frames * 6
        described = ds64(size, frames) + fmt(channels=2, subtype="PCM_24")
        head = b"RF64" + struct.pack("<I", LONG) + b"WAVE" + described + struct.pack("<4sI", b"data", LONG)
        path = tmp_path / "session.wav"
        with path.open("wb") as file:
            file.write(head)
            file.seek(len(head) + start * 6)
            file.write(encoded(noise(48000, 2), "PCM_24"))
            file.truncate(len(head) + size)
        if path.stat().st_blocks * 512 > 2**24:
            pytest.skip("this file system has no holes")
        return path, start, frames

    def test_a_piece_beyond_4_gb_is_read(self, huge):
        path, start, frames = huge
        recording = open_recording(path)

        assert path.stat().st_size > 2**32
        assert (recording.format.frames, recording.format.remarks) == (frames, ())
        assert start * 6 > 2**32
        assert recording.piece(start, start + 48000, 2) == pytest.approx(noise(48000, 2)[:, 1], abs=2**-23)
        assert len(recording.piece_at_16k(start, start + 48000, 1, whole=WHOLE).signal) == RATE

    def test_memory_does_not_grow_with_length(self, saved):
        most = []
        for seconds in (20, 200):
            recording = open_recording(saved(wave(encoded(np.tile(noise(48000), seconds)))))
            tracemalloc.start()
            found = levels(recording)
            most.append(tracemalloc.get_traced_memory()[1] - found.nbytes)
            tracemalloc.stop()

        assert most[1] < most[0] + 2**16
        assert most[0] > 2**18  # so much a block has: memory was looked at
