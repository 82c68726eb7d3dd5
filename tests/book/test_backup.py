"""Backups taken while others work, restored on either database, and refused where they are damaged."""

import hashlib
import json
import threading
import zipfile
from contextlib import closing
from pathlib import Path

import pytest

from tests.book.makers import (
    KEY,
    a_draft,
    a_production,
    a_recording,
    a_script,
    a_session_with_takes,
)
from trackread.book.archive import NAME
from trackread.book.backup import backup
from trackread.book.book import FILE, Book
from trackread.book.checking import check
from trackread.book.corrections import append_correction, corrections
from trackread.book.database import open_sqlite
from trackread.book.drafts import current_script, draft_number, drafts
from trackread.book.readings import find_reading, save_reading
from trackread.book.restoring import restore
from trackread.book.sessions import sessions
from trackread.book.settings import SETTINGS
from trackread.book.sounds import keep_sound, sound_path
from trackread.book.takes import circle, decisions, takes
from trackread.errors import BookError, SoundError


def everything(book):
    """What a book tells of itself, but for where its files are."""
    return (
        drafts(book),
        current_script(book),
        sessions(book),
        takes(book),
        decisions(book, "S1-002"),
        corrections(book, "S1-001"),
        find_reading(book, KEY),
    )


@pytest.fixture
def full(tmp_path, book):
    """A book with something of everything in it."""
    a_session_with_takes(book, tmp_path)
    circle(book, "L0001-2", "ANN")
    append_correction(book, "L0001-1", {"words": "moved"}, "ANN", after=0)
    save_reading(book, KEY, {"words": ["Zoë"]})
    return book


@pytest.fixture
def zipped(tmp_path, full):
    backup(full, tmp_path / "tram.zip")
    return tmp_path / "tram.zip"


def test_a_restored_production_is_the_same(tmp_path, full, zipped, new_database):
    restore(zipped, tmp_path / "again", database=new_database())

    with Book.open(tmp_path / "again") as again:
        assert everything(again) == everything(full)
        assert check(again) == ()


def test_a_backup_goes_from_either_database_to_the_other(request, tmp_path, full, zipped):
    other = request.getfixturevalue("server_database")() if full.database.file else ""
    restore(zipped, tmp_path / "again", database=other)

    with Book.open(tmp_path / "again") as again:
        assert bool(again.database.file) != bool(full.database.file)
        assert everything(again) == everything(full)
        assert check(again) == ()


def test_a_restored_production_goes_on_counting(tmp_path, zipped, new_database):
    restore(zipped, tmp_path / "again", database=new_database())

    with Book.open(tmp_path / "again") as again:
        a_session_with_takes(again, tmp_path, content=b"another reel")
        circle(again, "S2-001", "BEN")
        assert append_correction(again, "S2-001", {}, "BEN", after=0) == 1
        assert takes(again, session=2)[0].name == "L0001-3"
        assert check(again) == ()


def test_a_backup_has_the_hash_of_every_file(zipped):
    with zipfile.ZipFile(zipped) as archive:
        manifest = json.loads(archive.read("manifest.json"))
        digests = {name: hashlib.sha256(archive.read(name)).hexdigest() for name in archive.namelist()[:-1]}
        stored = {info.filename: info.compress_type for info in archive.infolist()}

    assert manifest["files"] == digests
    assert {name.partition("/")[0] for name in digests} == {SETTINGS, FILE, "sounds"}
    assert {kind for name, kind in stored.items() if name.startswith("sounds/")} == {zipfile.ZIP_STORED}


def test_a_backup_has_no_password(zipped):
    with zipfile.ZipFile(zipped) as archive:
        assert b"secret" not in archive.read(SETTINGS)


def test_kits_and_their_pictures_are_in_a_backup_and_what_systems_leave_beside_them_is_not(tmp_path, full):
    kits = full.folder / "kits"
    (kits / "looks").mkdir(parents=True)
    (kits / "tum.toml").write_text('character = "TUM"\njaw = 3\n')
    (kits / "looks" / "zwölf 12.png").write_bytes(b"a picture")
    (kits / ".DS_Store").write_bytes(b"of no use")
    (kits / "elsewhere.toml").symlink_to(Path(__file__))
    backup(full, tmp_path / "it.zip")
    restore(tmp_path / "it.zip", tmp_path / "again")
    found = sorted(path.name for path in (tmp_path / "again" / "kits").rglob("*") if path.is_file())

    assert found == ["tum.toml", "zwölf 12.png"]
    assert (tmp_path / "again" / "kits" / "looks" / "zwölf 12.png").read_bytes() == b"a picture"


@pytest.mark.parametrize("name", ["kits/../../out.toml", "kits/.hidden", "kits//out.toml", "kits/a\\b", "kits/"])
def test_a_backup_whose_kits_lead_elsewhere_is_refused(name):
    assert NAME.fullmatch(name) is None


def test_the_pronunciations_are_in_a_backup(tmp_path, full):
    (full.folder / "pronunciations.txt").write_text("mumblethorpe M AH1\n")
    backup(full, tmp_path / "tram.zip")
    restore(tmp_path / "tram.zip", tmp_path / "again")

    assert (tmp_path / "again" / "pronunciations.txt").read_text() == "mumblethorpe M AH1\n"


def test_what_is_left_out_is_told(tmp_path, book):
    first, sound = a_recording(tmp_path)
    keep_sound(book, first, sound, 1, in_place=True)
    second, other = a_recording(tmp_path, content=b"reel 2", name="reel 2.wav")
    keep_sound(book, second, other, 1).unlink()

    notes = backup(book, tmp_path / "tram.zip")

    assert notes.sounds == 0
    assert sorted(text.split(" /")[0] for text in notes.left_out) == [
        "reel 1.wav: it lies outside the production, at",
        "reel 2.wav: its file",
    ]


def test_a_backup_may_leave_out_the_recordings(tmp_path, full):
    notes = backup(full, tmp_path / "tram.zip", with_sounds=False)
    restore(tmp_path / "tram.zip", tmp_path / "again")

    assert notes.left_out == ("reel 1.wav: recordings were not asked for",)
    with Book.open(tmp_path / "again") as again:
        assert everything(again) == everything(full)
        with pytest.raises(SoundError, match=r"the recording reel 1\.wav is missing"):
            sound_path(again, sessions(again)[0].sound.digest)


def test_a_backup_is_whole_though_others_write(tmp_path, full):
    stop = threading.Event()

    def write():
        count = 0
        while not stop.is_set():
            a_draft(full, a_script([("BRACK", f"Stop {count}!"), ("TUM", "No.")], issued=4))
            count += 1

    writer = threading.Thread(target=write)
    writer.start()
    try:
        for number in range(5):
            backup(full, tmp_path / f"{number}.zip")
    finally:
        stop.set()
        writer.join()
    assert draft_number(full) > 5

    for number in range(5):
        restore(tmp_path / f"{number}.zip", tmp_path / str(number))
        with Book.open(tmp_path / str(number)) as again:
            assert check(again) == ()
            assert [note.count for note in drafts(again)] == [4] + [2] * (draft_number(again) - 1)


def test_a_backup_that_cannot_be_written_is_told(tmp_path, full):
    with pytest.raises(BookError, match=r"tram\.zip cannot be written: No such file or directory"):
        backup(full, tmp_path / "nowhere" / "tram.zip")


def test_a_backup_that_does_not_fit_leaves_nothing(tmp_path, full, small_disk):
    path, sound = a_recording(tmp_path, content=bytes(8 << 20), name="long.wav")
    keep_sound(full, path, sound, 1)

    with pytest.raises(BookError, match="cannot be written: No space left on device"):
        backup(full, small_disk / "tram.zip")

    assert list(small_disk.iterdir()) == []


def test_only_an_empty_folder_is_restored_into(tmp_path, zipped):
    (tmp_path / "empty").mkdir()
    restore(zipped, tmp_path / "empty")

    with pytest.raises(BookError, match="empty is not empty: restore into a new folder"):
        restore(zipped, tmp_path / "empty")
    with pytest.raises(BookError, match=r"tram\.zip is not empty"):
        restore(zipped, zipped)


def test_a_server_that_holds_a_production_is_left_alone(tmp_path, zipped, server_database):
    address = server_database()
    with Book.create(tmp_path / "other", a_production(database=address)) as other:
        with pytest.raises(BookError, match="holds a production already: choose an empty database"):
            restore(zipped, tmp_path / "again", database=address)

        assert drafts(other) == ()
    assert not (tmp_path / "again").exists()


def changed(zipped, change):
    """The same backup with files that `change` puts, changes or takes out of {name: bytes}."""
    with zipfile.ZipFile(zipped) as archive:
        files = {name: archive.read(name) for name in archive.namelist()}
    change(files)
    with zipfile.ZipFile(zipped, "w") as archive:
        for name, content in files.items():
            archive.writestr(name, content)


def spoil_sound(files):
    name = next(name for name in files if name.startswith("sounds/"))
    files[name] = b"JUNK"


def climb_out(files):
    manifest = json.loads(files["manifest.json"])
    manifest["files"]["../outside"] = "00" * 32
    files |= {"manifest.json": json.dumps(manifest).encode(), "../outside": b""}


def come_from_later(files):
    files["manifest.json"] = json.dumps(json.loads(files["manifest.json"]) | {"format": 2}).encode()


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (spoil_sound, r"tram\.zip is damaged \(sounds/.*\): use another backup"),
        (climb_out, r"'\.\./outside' is no part of one"),
        (come_from_later, r"was written by a newer trackread: update trackread"),
        (lambda files: files.pop(FILE), r"is no whole backup: book\.sqlite is missing"),
        (lambda files: files.pop("manifest.json"), r"its manifest\.json is missing or damaged"),
        (lambda files: files.update({"manifest.json": b"[]"}), r"its manifest\.json is missing or damaged"),
    ],
)
def test_a_damaged_backup_is_told_and_leaves_nothing(tmp_path, zipped, change, told):
    changed(zipped, change)
    before = {path.name for path in tmp_path.iterdir()}

    with pytest.raises(BookError, match=told):
        restore(zipped, tmp_path / "again")

    assert {path.name for path in tmp_path.iterdir()} == before


def test_a_backup_that_was_cut_off_or_is_none_is_told(tmp_path, zipped):
    zipped.write_bytes(zipped.read_bytes()[:-200])

    with pytest.raises(BookError, match=r"tram\.zip is damaged"):
        restore(zipped, tmp_path / "again")
    with pytest.raises(BookError, match=r"none\.zip cannot be read: No such file"):
        restore(tmp_path / "none.zip", tmp_path / "again")


def test_one_changed_byte_anywhere_is_found(tmp_path, zipped):
    """Whatever byte of a recording or of the database changes, CRC-32 or SHA-256 tells."""
    content = zipped.read_bytes()
    with zipfile.ZipFile(zipped) as archive:
        places = [info.header_offset + 120 for info in archive.infolist() if info.file_size > 200]
    assert len(places) >= 2
    for place in places:
        zipped.write_bytes(content[:place] + bytes([content[place] ^ 1]) + content[place + 1 :])
        with pytest.raises(BookError, match="is damaged"):
            restore(zipped, tmp_path / "again")


def test_a_recording_of_more_than_four_gigabytes_may_be_in_a_backup(zipped):
    """Each recording has the sizes of ZIP64 (APPNOTE 4.5.3, header 0x0001), which do not end at 4 GB.

    The version that is needed (4.4.3.2) is not looked at: Python wrote 2.0 there before 3.11.4.
    """
    with zipped.open("rb") as file, closing(zipfile.ZipFile(file)) as archive:
        (info,) = [info for info in archive.infolist() if info.filename.startswith("sounds/")]
        file.seek(info.header_offset)
        header = file.read(30 + len(info.filename) + 4)

    assert header[-4:-2] == (1).to_bytes(2, "little")


def test_a_snapshot_is_a_whole_database_of_its_own(tmp_path, zipped):
    with zipfile.ZipFile(zipped) as archive:
        archive.extract(FILE, tmp_path / "out")

    with closing(open_sqlite(tmp_path / "out" / FILE, mode="rw")) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert connection.execute("SELECT count(*) FROM stretches").fetchall() == [(5,)]


def test_a_folder_in_no_folder_is_told(tmp_path, zipped):
    with pytest.raises(BookError, match="again cannot be written: No such file or directory"):
        restore(zipped, tmp_path / "nowhere" / "again")
