"""`trackread new`, and how the other commands find a production."""

import json

import pytest

from trackread.workflow.production import warning_of_share

NEW = ("--title", "The Late Tram", "--rate", "24")


def test_a_new_production_says_what_to_do_next_and_has_its_settings(command, tmp_path):
    folder = tmp_path / "tram"
    status, told, errors = command("new", folder, *NEW, "--paper", "A3", "--character", "TUM", "--first-frame", 101)

    assert (status, errors) == (0, "")
    assert "trackread script add FILE" in told
    settings = (folder / "production.toml").read_text(encoding="utf-8")
    assert 'paper = "a3"' in settings
    assert "first_frame = 101" in settings
    assert 'name = "TUM"' in settings
    assert command("status", "--production", folder)[:1] == (0,)


def test_all_that_is_wrong_is_told_at_once_and_nothing_is_made(command, tmp_path):
    folder = tmp_path / "tram"
    wrong = ("--title", " ", "--rate", "23", "--paper", "b5", "--rows", 3, "--first-frame", -2, "--database", "x://y")
    status, told, errors = command("new", folder, *wrong, "--character", "TUM", "--character", "tum")

    assert (status, told) == (1, "")
    assert [row.partition(":")[0] for row in errors.removeprefix("trackread: ").splitlines()] == [
        "--title",
        "--rate",
        "--first-frame",
        "--paper",
        "--rows",
        "--database",
        "--character",
    ]
    assert not folder.exists()


def test_a_folder_holds_one_production(command, tmp_path):
    command("new", tmp_path / "tram", *NEW)
    status, _, errors = command("new", tmp_path / "tram", "--title", "Another", "--rate", "25")

    assert status == 1
    assert "holds a production already" in errors
    assert "The Late Tram" in (tmp_path / "tram" / "production.toml").read_text(encoding="utf-8")


def test_a_network_share_is_warned_of(tmp_path):
    # proc_pid_mountinfo(5): fields to " - ", then the file system.
    mounts = tmp_path / "mountinfo"
    mounts.write_text(f"36 35 98:0 / {tmp_path} rw - nfs4 server:/films rw\n", encoding="utf-8")

    assert "network share (nfs4)" in warning_of_share(tmp_path / "tram", mountinfo=mounts)
    assert warning_of_share(tmp_path.parent, mountinfo=mounts) == ""


def test_a_production_is_found_from_any_folder_in_it(command, production, monkeypatch):
    below = production / "notes" / "brack"
    below.mkdir(parents=True)
    monkeypatch.chdir(below)

    assert command("script", "lines")[1].splitlines()[1].startswith("L0001")


def test_a_production_is_found_by_the_environment(command, production, monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TRACKREAD_PRODUCTION", str(production))

    assert command("script", "lines")[0] == 0


def test_where_there_is_no_production_one_line_says_how_to_name_it(command, monkeypatch, tmp_path):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("TRACKREAD_PRODUCTION", raising=False)
    status, told, errors = command("status")

    assert (status, told) == (1, "")
    assert str(tmp_path) in errors
    assert "--production" in errors
    assert errors.count("\n") == 1


@pytest.mark.parametrize(("given", "author"), [(("--author", " BEA  LEE"), "BEA LEE"), ((), "CAL")])
def test_who_writes_is_named_by_the_option_or_the_environment(command, production, monkeypatch, given, author):
    monkeypatch.setenv("TRACKREAD_AUTHOR", "CAL")
    monkeypatch.setenv("TRACKREAD_PRODUCTION", str(production))
    command("assign", "S1-003", "slate", *given)
    told = json.loads(command("takes", "--session", "S1", "--json")[1])

    assert told["takes"][2]["decided_by"] == author


def test_a_person_without_a_name_is_refused(refused):
    assert "the name after --author is empty" in refused("circle", "L0001-1", "--author", " ")
