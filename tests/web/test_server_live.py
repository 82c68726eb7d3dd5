"""What pages are told as it happens, whoever does it: another page, or a command beside the server."""

import shutil

import pytest

from tests.web.served import Listener, a_film_with_shots, becomes, cut, issue, served
from trackread.workflow.decisions import circle
from trackread.workflow.keys import revoke
from trackread.workflow.telling import tell_done


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


def test_revoking_a_key_signs_out_who_came_in_with_it_and_ends_what_they_hear(server):
    client = server.signed_in("office")
    listener = Listener(client)
    revoke(server.book, 1)

    assert client.get("/api/office").status_code == 401
    assert becomes(lambda: server.app.state.live.tell("take", {"name": "X"}) or listener.ended.is_set())
    assert server.client().get("/api/live").status_code == 401
