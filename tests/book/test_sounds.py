"""Recordings kept and referred to."""

import hashlib
import os

import pytest

from tests.book.makers import a_production, a_recording
from trackread.book.book import SOUNDS, Book
from trackread.book.sounds import keep_sound, sound_path, sounds
from trackread.core.sound import Sound
from trackread.core.timebase import Sample
from trackread.errors import BookError, SoundError

# FIPS 180-4's example for SHA-256 (NIST, Examples with Intermediate Values): the message "abc".
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_a_recording_is_kept_under_the_hash_of_its_bytes(tmp_path, book):
    path, sound = a_recording(tmp_path, content=b"abc", name="Reel 1.WAV")
    assert sound.digest == ABC

    kept = keep_sound(book, path, sound, 2)

    assert kept == sound_path(book, ABC) == book.folder / SOUNDS / "ba" / f"{ABC}.WAV"
    assert kept.read_bytes() == b"abc"
    (told,) = sounds(book)
    assert (told.sound, told.name, told.path, told.channels, told.in_place) == (sound, "Reel 1.WAV", kept, 2, False)


def test_a_recording_that_is_kept_is_not_copied_again(tmp_path, book):
    path, sound = a_recording(tmp_path)
    kept = keep_sound(book, path, sound, 2)
    before = kept.stat()
    path.unlink()

    assert keep_sound(book, path, sound, 2) == kept
    assert kept.stat().st_mtime_ns == before.st_mtime_ns
    assert len(sounds(book)) == 1


def test_a_file_that_changed_since_is_refused_and_nothing_kept(tmp_path, book):
    path, sound = a_recording(tmp_path)
    path.write_bytes(b"RIFF and more")

    for in_place in (False, True):
        with pytest.raises(SoundError, match=r"reel 1\.wav has changed since it was looked at"):
            keep_sound(book, path, sound, 2, in_place=in_place)

    assert sounds(book) == ()
    assert [path for path in (book.folder / SOUNDS).rglob("*") if path.is_file()] == []


def test_a_file_that_is_not_there_is_told(tmp_path, book):
    path, sound = a_recording(tmp_path)
    path.unlink()

    with pytest.raises(SoundError, match=r"reel 1\.wav cannot be read: No such file"):
        keep_sound(book, path, sound, 2)


def test_progress_is_told_as_a_share(tmp_path, book):
    path, sound = a_recording(tmp_path, content=bytes(3 << 20))
    shares = []

    keep_sound(book, path, sound, 1, progress=shares.append)

    assert shares == [pytest.approx(1 / 3), pytest.approx(2 / 3), 1.0]


def test_a_recording_left_in_place_is_found_when_both_folders_move_together(tmp_path):
    (tmp_path / "film" / "reels").mkdir(parents=True)
    path, sound = a_recording(tmp_path / "film" / "reels")
    with Book.create(tmp_path / "film" / "tram", a_production()) as book:
        assert keep_sound(book, path, sound, 2, in_place=True).samefile(path)
    (tmp_path / "film").rename(tmp_path / "moved")

    with Book.open(tmp_path / "moved" / "tram") as book:
        assert sound_path(book, sound.digest).read_bytes() == b"RIFF and so on"
        assert sounds(book)[0].in_place
        assert not (book.folder / SOUNDS).exists()


def test_a_missing_recording_is_named_and_can_be_added_again(tmp_path, book):
    path, sound = a_recording(tmp_path)
    keep_sound(book, path, sound, 2, in_place=True)
    moved = path.rename(tmp_path / "reel one.wav")

    with pytest.raises(SoundError, match=r"the recording reel 1\.wav is missing: put it back at .*reel 1\.wav"):
        sound_path(book, sound.digest)

    keep_sound(book, moved, sound, 2, in_place=True)
    assert sound_path(book, sound.digest).samefile(moved)


def test_a_recording_that_was_left_in_place_can_be_kept_later(tmp_path, book):
    path, sound = a_recording(tmp_path)
    keep_sound(book, path, sound, 2, in_place=True)

    keep_sound(book, path, sound, 2)
    path.unlink()

    assert sound_path(book, sound.digest).read_bytes() == b"RIFF and so on"
    assert not sounds(book)[0].in_place


def test_a_recording_that_nobody_added_is_told(book):
    with pytest.raises(BookError, match=f"has no recording {ABC}: add it first"):
        sound_path(book, ABC)


def test_a_name_that_is_not_utf_8_is_kept_but_not_referred_to(tmp_path, book):
    path = tmp_path / os.fsdecode(b"reel \xeb.wav")
    path.write_bytes(b"abc")
    sound = Sound(ABC, 48_000, Sample(3))

    with pytest.raises(SoundError, match="its path is not UTF-8: rename it"):
        keep_sound(book, path, sound, 1, in_place=True)

    assert keep_sound(book, path, sound, 1).name == f"{ABC}.wav"
    assert sounds(book)[0].name == r"reel \xeb.wav"


def test_a_day_of_samples_fits(tmp_path, book):
    path, sound = a_recording(tmp_path, length=24 * 3600 * 192_000)

    keep_sound(book, path, sound, 1)

    assert sounds(book)[0].sound == sound


def test_a_full_disk_is_told_and_leaves_nothing_of_the_copy(tmp_path, small_disk):
    content = bytes(8 << 20)
    path, _ = a_recording(tmp_path, content=content)
    with Book.create(small_disk / "tram", a_production()) as book:
        with pytest.raises(BookError, match="cannot be written: No space left on device"):
            keep_sound(book, path, Sound(hashlib.sha256(content).hexdigest(), 48_000, Sample(1)), 1)

        assert sounds(book) == ()
        assert [path for path in (book.folder / SOUNDS).rglob("*") if path.is_file()] == []
