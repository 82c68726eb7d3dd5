"""What pages are told as it happens, whoever does it: another page, or a command beside the server."""

import shutil

import pytest

from tests.films import read_by_hand, reading_of
from tests.web.floors import KITS
from tests.web.served import Listener, a_film_with_shots, becomes, cut, issue, served
from trackread.workflow.correcting import correct, move
from trackread.workflow.decisions import circle
from trackread.workflow.keys import revoke
from trackread.workflow.telling import tell_done
from trackread.workflow.undoing import undo


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return a_film_with_shots(tmp_path_factory.mktemp("film"))


@pytest.fixture
def server(made, tmp_path):
    with served(shutil.copytree(made, tmp_path / "tram")) as server:
        yield server


def test_what_a_command_does_beside_the_server_is_told_within_2_seconds(server):
    listener = Listener(server.signed_in("editor"))
    settle(server, listener)
    issue(server.book, "SH010")
    tell_done(server.book, "SH010", 12, "BO")
    circle(server.book, ["L0001-1"], "BO", on=True)

    assert listener.hears(kind="issued", shot="SH010", issue=1, unit="7")
    assert listener.hears(kind="done", shot="SH010", done=12, of=48, unit="7", by="BO")
    assert listener.hears(kind="take", name="L0001-1", by="BO")


def settle(server, listener):
    """Waits until the threads have looked at the book for the first time, so that what follows is news to them."""
    assert becomes(
        lambda: tell_done(server.book, "SH020", 1, "ANN") and listener.hears(1.5, kind="done", shot="SH020"), 30
    )


def test_a_sheet_that_a_new_cut_makes_stale_is_told_and_others_are_not(server, tmp_path):
    issue(server.book, "SH010", "SH020")
    listener = Listener(server.signed_in("editor"))
    settle(server, listener)
    cut(server.book, tmp_path, second=44)

    assert listener.hears(5.0, kind="stale", shot="SH010")
    assert not any(one["kind"] == "stale" and one["shot"] == "SH020" for one in listener.told)


def test_a_sheet_that_holds_again_is_told_as_soon_as_what_had_changed_is_taken_back(server):
    issue(server.book, "SH010")
    listener = Listener(server.signed_in("unit", "7"))
    settle(server, Listener(server.signed_in("editor")))
    correct(server.book, "L0001-1", move("ticket!", 13), "ANN")

    assert listener.hears(5.0, kind="stale", shot="SH010")
    undo(server.book, "L0001-1", "ANN")
    assert listener.hears(5.0, kind="holds", shot="SH010")


def test_a_kit_that_is_edited_makes_the_sheets_stale_on_which_it_is_worn(server):
    kits = server.book.folder / "kits"
    kits.mkdir()
    shutil.copy(KITS / "brack.toml", kits)
    issue(server.book, "SH010")
    listener = Listener(server.signed_in("editor"))
    settle(server, listener)
    kit = kits / "brack.toml"
    kit.write_text(kit.read_text().replace('name = "a crack open"', 'name = "hardly open"'))

    assert listener.hears(5.0, kind="stale", shot="SH010")
    assert not any(one["kind"] == "stale" and one["shot"] == "SH020" for one in listener.told)


def test_a_take_that_is_read_again_is_told(server):
    listener = Listener(server.signed_in("editor"))
    settle(server, listener)
    read_by_hand(server.book, "L0002-1", reading_of("L0002-1"), engine="2")

    assert listener.hears(kind="take", name="L0002-1")


def test_what_a_page_has_told_is_not_told_again(server):
    issue(server.book, "SH010")
    listener = Listener(server.signed_in("editor"))
    settle(server, listener)
    told = {"kind": "done", "shot": "SH010", "done": 7, "of": 48, "unit": "7", "by": "BO"}
    tell_done(server.book, "SH010", 7, "BO")
    server.app.state.live.tell("done", told)
    tell_done(server.book, "SH020", 2, "BO")

    assert listener.hears(kind="done", shot="SH020", done=2)
    assert listener.told.count(told) == 1


def test_a_unit_hears_of_its_own_shots_only_and_of_those_that_it_had(server):
    issue(server.book, "SH010")
    issue(server.book, "SH020", unit="8")
    listener = Listener(server.signed_in("unit", "8"))
    tell = server.app.state.live.tell
    tell("done", {"kind": "done", "shot": "SH010", "done": 1, "of": 48, "unit": "7", "by": "BO"})
    tell("take", {"kind": "take", "name": "L0001-1", "revision": "", "by": "BO"})
    tell("stale", {"kind": "stale", "shot": "SH020"})
    tell("issued", {"kind": "issued", "shot": "SH020", "issue": 2, "unit": "7", "code": "TR"})

    assert listener.hears(kind="issued", shot="SH020", unit="7")
    assert [one["kind"] for one in listener.told] == ["stale", "issued"]


@pytest.mark.parametrize(
    "leave", [lambda server, _: revoke(server.book, 1), lambda _, client: client.post("/sign-out")]
)
def test_who_is_signed_out_hears_no_more_within_2_seconds_though_nothing_happens(server, leave):
    client = server.signed_in("office")
    listener, other = Listener(client), Listener(server.signed_in("editor"))
    settle(server, other)
    leave(server, client)

    assert listener.ended.wait(2.0)
    assert not other.ended.is_set()
    assert client.get("/api/office").status_code == 401
    assert server.client(cookies=dict(client.cookies)).get("/api/live").status_code == 401
