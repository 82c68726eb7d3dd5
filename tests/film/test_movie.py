"""The movie as a player sees and hears it: decoded, and read from its pixels and its samples."""

import struct
import subprocess
from fractions import Fraction
from io import BytesIO

import av
import numpy as np
import pytest

from tests.ffmpeg import FFMPEG
from tests.film.makers import a_film, a_silent_voice, a_voice
from tests.film.watching import heard_in, mouths_in, number_in, pictures_of, planned
from trackread.errors import FilmError
from trackread.film.movie import movie_of
from trackread.film.sound import Soundtrack

# ISO/IEC 14496-3: samples of sound in a packet of AAC.
PACKET = 1024
RATES = {
    "23.976": Fraction(24000, 1001),
    "24": Fraction(24),
    "25": Fraction(25),
    "29.97": Fraction(30000, 1001),
    "30": Fraction(30),
}
CLICKS = (0.004, 0.31, 0.777, 1.2345, 1.75, 1.981)  # seconds


def clicks_at(sample_rate, seconds=2.0):
    """A tone burst of 2 ms at each of the times, told for every instant, so that it is the same at any sample rate."""
    t = np.arange(int(seconds * sample_rate))[:, None] / sample_rate - np.array(CLICKS)
    return (0.5 * np.exp(-((t / 0.002) ** 2)) * np.cos(2 * np.pi * 1500 * t)).sum(axis=1).astype(np.float32)


def lags_of(heard):
    """By how many samples at 48 kHz each click is late, where the two correlate best within 20 ms."""
    meant = np.pad(clicks_at(48000), 2000)
    heard = np.pad(heard[:96000], (2000, 2000 + max(0, 96000 - len(heard))))
    for click in CLICKS:
        centre = 2000 + int(click * 48000)
        one = meant[centre - 200 : centre + 200]
        yield int(np.argmax(np.correlate(heard[centre - 1160 : centre + 1160], one))) - 960


def boxes_of(movie):
    """The outer boxes of the file by ISO/IEC 14496-12, in order."""
    at = 0
    while at < len(movie):
        length, kind = struct.unpack_from(">I4s", movie, at)
        yield kind.decode()
        at += length


@pytest.mark.parametrize(("rate", "exact"), RATES.items())
def test_every_frame_is_shown_from_exactly_its_number_over_the_rate(rate, exact):
    movie = movie_of(a_film(a_voice("tum", 31), length=31, rate=rate))
    _, times = pictures_of(movie)
    with av.open(BytesIO(movie)) as container:
        stream = container.streams.video[0]
        lasts = stream.duration * stream.time_base

    assert times == [k / exact for k in range(31)]
    assert lasts == 31 / exact


def test_number_and_mouths_of_every_frame_are_read_from_the_pixels():
    film = a_film(a_voice("brack", 60), a_silent_voice("tum", 60), a_voice("miss-pell", 60, seed=2), length=60)
    pictures, _ = pictures_of(movie_of(film))

    assert [number_in(picture) for picture in pictures] == list(range(1, 61))
    assert [mouths_in(picture, film) for picture in pictures] == [planned(film, k) for k in range(60)]


@pytest.mark.parametrize("count", [1, 4, 6, 8])
def test_mouths_of_up_to_eight_characters_are_read_from_the_pixels(count):
    puppets = ("brack", "miss-pell", "tum")
    voices = [a_voice(puppets[index % 3], 26, seed=index) for index in range(count)]
    film = a_film(*voices, length=26, first_number=987, rate="25")
    pictures, _ = pictures_of(movie_of(film))

    assert [number_in(picture) for picture in pictures] == list(range(987, 1013))
    assert [mouths_in(picture, film) for picture in pictures] == [planned(film, k) for k in range(26)]


@pytest.mark.parametrize("sample_rate", [44100, 48000, 96000])
@pytest.mark.parametrize("kind", [np.float32, np.int16])
def test_sound_is_within_a_millisecond_of_its_picture(sample_rate, kind):
    clicks = clicks_at(sample_rate)
    samples = clicks if kind is np.float32 else np.rint(clicks * 32767).astype(np.int16)
    heard, begins = heard_in(movie_of(a_film(), Soundtrack(samples, sample_rate)))
    lags = [lag + begins * 48000 for lag in lags_of(heard[0])]

    assert len(heard) == 1
    assert max(map(abs, lags)) < 48
    assert np.abs(heard).max() == pytest.approx(np.abs(clicks).max(), rel=0.1)


def test_another_decoder_hears_the_clicks_on_time_too(tmp_path):
    path = tmp_path / "film.mp4"
    path.write_bytes(movie_of(a_film(), Soundtrack(clicks_at(44100), 44100)))
    command = [FFMPEG, "-v", "error", "-i", path, "-f", "f32le", "-"]
    heard = np.frombuffer(subprocess.run(command, check=True, capture_output=True).stdout, np.float32)

    assert max(map(abs, lags_of(heard))) < 48


def test_each_ear_hears_its_own_channel():
    clicks = clicks_at(96000)
    heard, _ = heard_in(movie_of(a_film(), Soundtrack(np.stack([clicks, 0 * clicks], axis=1), 96000)))

    assert np.abs(heard[0]).max() > 0.4
    assert np.abs(heard[1]).max() < 0.01


@pytest.mark.parametrize("rate", RATES)
@pytest.mark.parametrize("off", [-0.9, 0, 0.9])
def test_sound_and_picture_end_within_a_packet_of_sound(rate, off):
    film = a_film(a_voice("tum", 49), length=49, rate=rate)
    samples = np.full(int((49 + off) / RATES[rate] * 44100), 0.1, np.float32)
    heard, begins = heard_in(movie_of(film, Soundtrack(samples, 44100)))

    assert begins == 0
    assert abs(heard.shape[1] - 49 / RATES[rate] * 48000) <= PACKET


@pytest.mark.parametrize("off", [-1.5, 1.5, -40, 30])
def test_a_sound_more_than_a_frame_off_is_refused_with_both_lengths(off):
    samples = np.zeros(int((48 + off) * 2000), np.float32)

    with pytest.raises(FilmError) as told:
        movie_of(a_film(), Soundtrack(samples, 48000))

    assert f"the sound lasts {(48 + off) / 24:.3f} s" in str(told.value)
    assert "48 frames last 2.000 s" in str(told.value)


@pytest.mark.parametrize("rate", RATES)
def test_the_head_says_exactly_how_long_the_movie_is(rate):
    samples = np.zeros(int(31 / RATES[rate] * 44100), np.float32)
    movie = movie_of(a_film(a_voice("tum", 31), length=31, rate=rate), Soundtrack(samples, 44100))
    # ISO/IEC 14496-12, movie header: after version, creation and change come the units in a second, and how many.
    version, _, _, units, lasts = struct.unpack_from(">5I", movie, movie.index(b"mvhd") + 4)

    assert version == 0
    # The sound ends with the sample that the last frame ends in.
    assert 0 <= Fraction(lasts, units) - 31 / RATES[rate] < Fraction(1, 48000)


def test_the_same_film_has_the_same_bytes():
    sound = Soundtrack(clicks_at(48000), 48000)

    assert movie_of(a_film(), sound) == movie_of(a_film(), sound)


def test_a_movie_plays_before_all_of_it_is_there():
    kinds = list(boxes_of(movie_of(a_film())))

    assert kinds[0] == "ftyp"
    assert kinds.index("moov") < kinds.index("mdat")


def test_a_movie_is_of_kinds_that_browsers_play():
    movie = movie_of(a_film(), Soundtrack(clicks_at(48000), 48000))
    with av.open(BytesIO(movie)) as container:
        picture, sound = container.streams.video[0].codec_context, container.streams.audio[0].codec_context

        assert (picture.name, picture.pix_fmt, picture.width, picture.height) == ("h264", "yuv420p", 1280, 720)
        assert (sound.name, sound.sample_rate) == ("aac", 48000)


def test_a_film_without_sound_has_pictures_only():
    with av.open(BytesIO(movie_of(a_film()))) as container:
        assert not container.streams.audio
