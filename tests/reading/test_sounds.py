"""Sound files of all kinds, made here and loaded; and every way in which a file can fail to be one."""

import hashlib
import struct

import numpy as np
import pytest
import soundfile

from trackread.errors import SoundError
from trackread.reading.sounds import BLOCK, RATE, load

RATES = [8000, 11025, 16000, 22050, 44100, 48000, 96000, 192000]
# How far a step of each encoding lies from the sample it stands for: half a step of so many bits.
EXACT = {"PCM_U8": 2**-7, "PCM_16": 2**-15, "PCM_24": 2**-23, "PCM_32": 2**-24, "FLOAT": 0, "DOUBLE": 2**-24}


def a_sine(rate=RATE, *, hertz=1000, seconds=1.0, peak=0.5):
    return peak * np.sin(2 * np.pi * hertz * np.arange(round(seconds * rate)) / rate)


@pytest.fixture
def saved(tmp_path):
    """Writes samples, shape (samples,) or (samples, channels), to a file and gives its path."""

    def saved(samples, rate=RATE, name="take.wav", **how):
        path = tmp_path / name
        soundfile.write(path, samples, rate, **how)
        return path

    return saved


@pytest.fixture
def shortened(saved):
    """Writes a file and cuts off its end, leaving a share of its bytes."""

    def shortened(share, name="take.wav", **how):
        path = saved(np.random.default_rng(0).normal(0, 0.1, 20000), name=name, **how)
        path.write_bytes(path.read_bytes()[: int(share * path.stat().st_size)])
        return path

    return shortened


def tone_of(signal, hertz):
    """The level, as a peak, and the delay, in samples, of a sine in the middle of a signal."""
    middle = slice(RATE // 8, RATE * 7 // 8)
    turn = 2 * np.mean(signal[middle] * np.exp(-2j * np.pi * hertz * np.arange(len(signal))[middle] / RATE)) * 1j
    return abs(turn), -np.angle(turn) / (2 * np.pi * hertz) * RATE


def peak_of(signal):
    """Where the highest point of a click lies, between samples, by a parabola through three of them."""
    top = int(np.abs(signal).argmax())
    before, at, after = signal[top - 1 : top + 2]
    return top + (before - after) / (2 * (before - 2 * at + after))


@pytest.mark.parametrize("rate", RATES)
def test_a_tone_arrives_with_its_frequency_level_and_time(saved, rate):
    signal = load(saved(a_sine(rate), rate, subtype="FLOAT")).signal
    level, delay = tone_of(signal, 1000)

    assert len(signal) == RATE
    assert signal.dtype == np.float32
    assert level == pytest.approx(0.5, rel=0.001)
    assert abs(delay) < 0.01
    assert np.abs(np.fft.rfft(signal)).argmax() == 1000  # hertz, since the signal lasts a second


@pytest.mark.parametrize("rate", RATES)
@pytest.mark.parametrize("time", [0.1, 0.5, 0.9])
def test_a_click_stays_where_it_is(saved, rate, time):
    samples = np.zeros(rate)
    samples[round(time * rate)] = 0.9

    assert peak_of(load(saved(samples, rate, subtype="FLOAT")).signal) == pytest.approx(
        round(time * rate) / rate * RATE, abs=0.1
    )


def test_a_click_stays_where_it_is_far_into_a_file_of_several_blocks(saved):
    samples = np.zeros(3 * BLOCK + 77)
    samples[3 * BLOCK - 5] = 0.9
    recording = load(saved(samples, 44100))

    assert peak_of(recording.signal) == pytest.approx((3 * BLOCK - 5) / 44100 * RATE, abs=0.1)
    assert recording.sound.length == 3 * BLOCK + 77


@pytest.mark.parametrize("rate", [rate for rate in RATES if rate > RATE])
def test_what_lies_above_half_of_16_khz_does_not_fold_back(saved, rate):
    signal = load(saved(a_sine(rate, hertz=10000) + a_sine(rate, hertz=500, peak=0.1), rate, subtype="FLOAT")).signal

    assert tone_of(signal, 6000)[0] < 1e-4
    assert tone_of(signal, 500)[0] == pytest.approx(0.1, rel=0.01)


@pytest.mark.parametrize(("subtype", "step"), EXACT.items())
def test_every_wav_of_8_to_64_bits_holds_its_samples(saved, subtype, step):
    samples = a_sine()

    assert load(saved(samples, subtype=subtype)).signal == pytest.approx(samples, abs=step + 1e-7)


@pytest.mark.parametrize(
    ("name", "form"),
    [
        ("a.aiff", "AIFF"),
        ("a.flac", "FLAC"),
        ("a.rf64", "RF64"),
        ("a.w64", "W64"),
        ("a.caf", "CAF"),
        ("a.wav", "WAVEX"),
    ],
)
def test_other_forms_of_file_hold_the_same_samples(saved, name, form):
    recording = load(saved(a_sine(), name=name, format=form, subtype="PCM_16"))

    assert recording.signal == pytest.approx(a_sine(), abs=2**-15)
    assert recording.seconds == 1


def test_an_ogg_holds_nearly_the_same(saved):
    level, delay = tone_of(load(saved(a_sine(), name="a.ogg")).signal, 1000)

    assert level == pytest.approx(0.5, rel=0.05)
    assert abs(delay) < 1


def test_the_kind_of_a_file_is_seen_in_it_and_not_in_its_name(saved):
    assert load(saved(a_sine(), name="take", format="FLAC")).seconds == 1


def test_a_recording_is_known_by_its_bytes_its_rate_and_its_length(saved):
    path = saved(a_sine(44100, seconds=0.5), 44100)
    sound = load(path).sound

    assert sound.digest == hashlib.sha256(path.read_bytes()).hexdigest()
    assert (sound.sample_rate, sound.length) == (44100, 22050)


@pytest.mark.parametrize("channels", [2, 8])
def test_like_channels_are_heard_as_one(saved, channels):
    path = saved(np.tile(a_sine()[:, None], channels))

    assert load(path).signal == pytest.approx(a_sine(), abs=2**-15)


@pytest.mark.parametrize("channels", [2, 8])
def test_of_different_channels_one_must_be_chosen(saved, channels):
    tones = [a_sine(hertz=500 * (k + 1)) for k in range(channels)]
    path = saved(np.column_stack(tones))

    with pytest.raises(SoundError, match=f"has {channels} different channels: choose one of 1 to {channels} with --ch"):
        load(path)
    for k, tone in enumerate(tones):
        assert load(path, k + 1).signal == pytest.approx(tone, abs=2**-15)


def test_channels_that_differ_in_one_sample_differ(saved):
    samples = np.tile(a_sine(seconds=20)[:, None], 2)
    samples[-1, 1] += 0.1

    with pytest.raises(SoundError, match="has 2 different channels"):
        load(saved(samples))


@pytest.mark.parametrize(("channels", "has"), [(1, "only one"), (2, "1 to 2")])
@pytest.mark.parametrize("channel", [-1, 0, 3])
def test_a_channel_that_is_not_there_is_refused(saved, channels, has, channel):
    with pytest.raises(SoundError, match=f"take[.]wav: has no channel {channel}: it has {has}$"):
        load(saved(np.tile(a_sine()[:, None], channels)), channel)


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(SoundError, match=r"gone[.]wav: no such file$"):
        load(tmp_path / "gone.wav")


def test_a_file_is_no_folder_to_look_in(saved):
    with pytest.raises(SoundError, match=r"no such file$"):
        load(saved(a_sine()) / "take.wav")


def test_a_name_that_cannot_be_opened_is_told(tmp_path):
    with pytest.raises(SoundError, match=r"cannot be opened: File name too long$"):
        load(tmp_path / ("a" * 300 + ".wav"))


@pytest.mark.parametrize(("place", "kind"), [("/", "folder"), ("/dev/null", "device"), ("/dev/zero", "device")])
def test_a_folder_or_a_device_is_no_sound_file(place, kind, tmp_path):
    with pytest.raises(SoundError, match=f"is a {kind}, not a sound file$"):
        load(tmp_path / place)


def test_an_empty_file_is_told(tmp_path):
    (tmp_path / "a.wav").touch()

    with pytest.raises(SoundError, match=r"a[.]wav: the file is empty$"):
        load(tmp_path / "a.wav")


@pytest.mark.parametrize("name", ["a.wav", "a.flac", "a.aiff", "a.txt", "a"])
def test_a_text_is_no_sound_whatever_its_name(tmp_path, name):
    (tmp_path / name).write_text("BRACK\nHold tight! Hold tight, please!\n" * 50)

    with pytest.raises(SoundError, match=f"{name}: not a sound file that can be read"):
        load(tmp_path / name)


def test_bare_samples_are_refused_since_they_do_not_tell_their_rate(tmp_path):
    (tmp_path / "a.raw").write_bytes(bytes(1000))

    with pytest.raises(SoundError, match="do not say what they are: save the take as WAV"):
        load(tmp_path / "a.raw")


@pytest.mark.parametrize("share", [0.1, 0.5, 0.99])
@pytest.mark.parametrize(
    ("name", "form"),
    [("a.wav", "WAV"), ("a.wav", "WAVEX"), ("a.flac", "FLAC"), ("a.aiff", "AIFF"), ("a.wav", "RF64"), ("a.w64", "W64")],
)
def test_a_file_that_was_cut_short_is_refused(shortened, name, form, share):
    with pytest.raises(SoundError, match="ends early"):
        load(shortened(share, name, format=form, subtype="PCM_16"))


@pytest.mark.parametrize("left", [4, 12, 20, 30, 42])
@pytest.mark.parametrize("name", ["a.wav", "a.flac", "a.aiff", "a.ogg"])
def test_a_file_cut_within_its_header_is_refused(shortened, name, left):
    path = shortened(1.0, name)
    path.write_bytes(path.read_bytes()[:left])

    with pytest.raises(SoundError, match=r"not a sound file that can be read|ends early|holds no samples"):
        load(path)


def test_a_flac_with_a_damaged_middle_is_refused(saved):
    path = saved(np.random.default_rng(0).normal(0, 0.1, 20000), name="a.flac")
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 0xFF
    path.write_bytes(content)

    with pytest.raises(SoundError, match="ends early or is damaged"):
        load(path)


def test_a_decoder_that_gives_less_than_it_promised_is_not_believed(saved):
    path = saved(np.random.default_rng(0).normal(0, 0.1, 48000), name="a.mp3")
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])

    with pytest.raises(SoundError, match=r"ends early: its header promises 48000 samples and \d+ are there"):
        load(path)


# RIFF gives a length 32 bits; what cannot go back to fill it in leaves one of these (common practice, no source).
@pytest.mark.parametrize("length", [0xFFFFFFFF, 0xFFFFFFFE, 0xFFFFF000, 0x7FFFFFFF, 0x7FFFF000])
def test_a_wav_whose_length_was_never_filled_in_is_read_as_it_is(saved, length):
    path = saved(a_sine())
    content = bytearray(path.read_bytes())
    content[40:44] = struct.pack("<I", length)
    path.write_bytes(content)

    assert load(path).signal == pytest.approx(a_sine(), abs=2**-15)


def test_a_file_without_samples_is_refused_with_its_size(saved):
    with pytest.raises(SoundError, match=r"holds no samples, or its header says so \(44 bytes in all\)$"):
        load(saved(np.zeros(0)))


@pytest.mark.parametrize("rate", [1, 4000, 7999, 1000000])
def test_a_rate_that_no_recorder_has_is_refused(saved, rate):
    with pytest.raises(SoundError, match=f"has {rate} samples a second: those of 8000 to 768000 can be read"):
        load(saved(a_sine(), rate))


@pytest.mark.parametrize(
    "samples",
    [
        np.zeros(RATE),
        np.full(RATE, 0.3),
        np.random.default_rng(0).normal(0, 1e-5, RATE),
        0.3 + np.random.default_rng(0).normal(0, 1e-5, RATE),
        np.zeros(1),
    ],
    ids=["digital", "with an offset", "with a little noise", "with both", "of one sample"],
)
@pytest.mark.parametrize("rate", [16000, 48000])
def test_silence_is_refused(saved, samples, rate):
    with pytest.raises(SoundError, match="is silent from end to end: there is nothing to read"):
        load(saved(samples, rate, subtype="FLOAT"))


def test_a_quiet_take_is_no_silence(saved):
    assert len(load(saved(a_sine(peak=0.001))).signal) == RATE


@pytest.mark.parametrize("subtype", ["PCM_U8", "PCM_16", "PCM_24", "FLOAT"])
def test_a_take_that_is_clipped_throughout_is_refused(saved, subtype):
    # 1 kHz at 16 kHz: two of sixteen samples lie where the sine crosses nought.
    with pytest.raises(SoundError, match=r"take[.]wav: 87 % of its samples are at full scale: too clipped to read"):
        load(saved(np.clip(a_sine(peak=100), -1, 1), subtype=subtype))


def test_a_slightly_clipped_take_is_read(saved):
    assert len(load(saved(np.clip(a_sine(peak=1.03), -1, 1))).signal) == RATE


@pytest.mark.parametrize("peak", [4.0, 32768.0, 2.0**31])
def test_floats_above_full_scale_are_not_clipped(saved, peak):
    assert load(saved(a_sine(peak=peak), subtype="FLOAT")).signal == pytest.approx(a_sine(peak=peak), rel=1e-6)


@pytest.mark.parametrize("value", [np.nan, np.inf, -np.inf, 1e38])
@pytest.mark.parametrize("place", [0, 777, BLOCK + 5])
def test_a_number_that_is_no_sound_is_told_with_its_place(saved, value, place):
    samples = np.full(BLOCK + 10, 0.1)
    samples[place] = value

    with pytest.raises(SoundError, match=f"sample {place} is not a number that sound has: the file is damaged"):
        load(saved(samples, subtype="FLOAT"))


def test_a_damaged_channel_spoils_only_itself(saved):
    samples = np.tile(a_sine()[:, None], 2)
    samples[5, 1] = np.nan
    path = saved(samples, subtype="FLOAT")

    assert len(load(path, 1).signal) == RATE
    for channel in (None, 2):
        with pytest.raises(SoundError, match="sample 5 is not a number"):
            load(path, channel)


@pytest.mark.parametrize("rate", RATES)
def test_an_offset_stays_as_it_is_and_makes_no_click_at_the_ends(saved, rate):
    samples = 0.5 + a_sine(rate, peak=0.1)
    signal = load(saved(samples, rate)).signal

    assert signal.mean() == pytest.approx(0.5, abs=0.001)
    assert np.abs(signal - 0.5).max() < 0.102
