"""`trackread backup`, `trackread restore` and `trackread check`."""

import pytest

from trackread.book.book import Book
from trackread.book.sounds import sounds
from trackread.workflow.keys import all_keys, sign_in, signed_in


def test_a_restored_production_tells_the_same(command, tram, tmp_path):
    tram("correct", "right", "L0001-3", "step")
    told = tram("backup", tmp_path / "tram.zip")
    status, restored, errors = command("restore", tmp_path / "tram.zip", tmp_path / "again")

    assert "2 recordings" in told
    assert (status, errors) == (0, "")
    assert f"trackread check --production {tmp_path / 'again'}" in restored
    for asked in (["takes", "--json"], ["script", "lines"], ["correct", "log", "L0001-3"]):
        assert command(*asked, "--production", tmp_path / "again") == (0, tram(*asked), "")
    assert command("check", "--production", tmp_path / "again") == (0, "All is whole.\n", "")


def test_a_backup_without_sound_says_what_it_leaves_out(command, tram, tmp_path):
    told = tram("backup", tmp_path / "small.zip", "--without-sound").splitlines()

    assert told[0].endswith("and 0 recordings.")
    assert [row.partition(":")[0] for row in told[1:]] == ["left out"] * 2
    command("restore", tmp_path / "small.zip", tmp_path / "again")
    assert command("check", "--production", tmp_path / "again")[0] == 1


def test_who_restores_is_told_that_keys_open_as_they_did_and_everybody_is_signed_out(
    command, tram, production, tmp_path
):
    tram("key", "add", "--role", "editor", "--name", "ANN")
    tram("key", "add", "--role", "office", "--name", "BO")
    with Book.open(production) as book:
        cookie = sign_in(book, 1).token
    tram("key", "revoke", "2")
    tram("backup", tmp_path / "tram.zip")
    tram("key", "revoke", "1")
    _, restored, _ = command("restore", tmp_path / "tram.zip", tmp_path / "again")

    assert "Its server opens with 1 key, as it did when the backup was made: one that was revoked since" in restored
    with Book.open(tmp_path / "again") as book:
        assert [key.number for key in all_keys(book, revoked=False)] == [1]
        assert signed_in(book, cookie) is None


def test_an_older_backup_is_replaced_but_nothing_else(tram, refused, production, tmp_path):
    tram("backup", tmp_path / "tram.zip")
    tram("backup", tmp_path / "tram.zip")
    settings = (production / "production.toml").read_bytes()

    assert "is a part of the production itself" in refused("backup", production / "production.toml")
    assert (production / "production.toml").read_bytes() == settings
    assert "is there already and is no backup" in refused("backup", tmp_path / "draft.csv")


def test_each_problem_has_a_line_of_its_own_and_the_status_is_1(command, production):
    with Book.open(production) as book:
        first, second = sounds(book)
    first.path.unlink()
    second.path.write_bytes(b"something else")
    status, told, errors = command("check", "--production", production)

    assert (status, errors) == (1, "")
    assert len(told.splitlines()) == 2
    assert "is missing" in told
    assert "is not what it was when it was added" in told


@pytest.mark.parametrize("folder", ["tram", "draft.csv"])
def test_nothing_is_restored_over_what_is_there(command, tram, tmp_path, folder):
    tram("backup", tmp_path / "tram.zip")
    status, told, errors = command("restore", tmp_path / "tram.zip", tmp_path / folder)

    assert (status, told) == (1, "")
    assert "is not empty" in errors


def test_what_is_no_backup_is_refused(command, tmp_path):
    (tmp_path / "draft.csv").write_text("scene,character,line\n", encoding="utf-8")
    status, _, errors = command("restore", tmp_path / "draft.csv", tmp_path / "again")

    assert status == 1
    assert str(tmp_path / "draft.csv") in errors
    assert not (tmp_path / "again").exists()
