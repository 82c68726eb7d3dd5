"""What the server promises of who may do what: keys, cookies, tries, the log; against the real server.

Sources: OWASP's cheat sheets for session management and authentication, RFC 6265bis (cookies). All from memory.
"""

import logging
import re

import pytest
from sqlalchemy import text

from tests.web.served import get, issue, raw, status_of
from trackread.web import tries
from trackread.web.serving import OneRow
from trackread.workflow import keys
from trackread.workflow.keys import make_key, number_of, revoke

WRONG = "1-" + "-".join(["0000"] * 7)


# Who has not signed in


ADDRESSES = ["/desk", "/floor", "/office", "/api/office", "/api/live", "/api/takes", "/api/floor", "/api/floor/SH010"]


@pytest.mark.parametrize("address", ADDRESSES)
def test_who_has_not_signed_in_sees_nothing(server, caplog, address):
    assert server.client().get(address).status_code == 401
    assert f"refused GET {address} to 127.0.0.1 (401): sign in first" in caplog.text


def test_every_address_but_those_of_signing_in_is_closed_to_who_has_not(server):
    open_to_all = {"/", "/sign-in", "/sign-out", "/api/me", "/static"}
    routes = [route for route in server.app.routes if route.path not in open_to_all]
    assert len(routes) > 15
    client = server.client()
    for route in routes:
        path = re.sub("{[^}]+}", "SH010", route.path)
        for method in route.methods - {"HEAD"}:
            answer = client.request(method, path)

            assert answer.status_code == 401, f"{method} {path}"


def test_a_cookie_that_was_made_up_opens_nothing(server):
    client = server.client(cookies={f"trackread-{server.port}": "x" * 43})

    assert client.get("/api/office").status_code == 401


def test_a_unit_sees_and_tells_of_no_shot_of_another(server, caplog):
    issue(server.book, "SH010")
    issue(server.book, "SH020", unit="8")
    unit = server.signed_in("unit", "8")

    assert unit.get("/api/floor/SH020").status_code == 200
    assert unit.get("/api/floor/SH010").status_code == 403
    assert unit.post("/api/floor/SH010/frames", json={"events": []}).status_code == 403
    asked = "refused GET /api/floor/SH010 to UNIT of unit 8 at 127.0.0.1 (403): SH010 is not a shot of unit 8"
    assert asked in caplog.text
    assert asked.replace("GET", "POST").replace("SH010 to", "SH010/frames to") in caplog.text


def test_the_key_of_another_unit_or_one_that_was_revoked_opens_nothing_more_than_it_did(server, caplog):
    issue(server.book, "SH010")
    theirs, gone = (make_key(server.book, "unit", "BO", "8", "ANN") for _ in range(2))
    revoke(server.book, gone.note.number)
    client = server.client()

    assert client.post("/sign-in", data={"key": gone.text}).status_code == 403
    assert "refused POST /sign-in to 127.0.0.1 (403): That key opens nothing here" in caplog.text
    assert client.post("/sign-in", data={"key": theirs.text}).status_code == 303
    assert client.get("/api/floor/SH010").status_code == 403
    assert "to BO of unit 8 at 127.0.0.1 (403): SH010 is not a shot of unit 8" in caplog.text


def test_the_office_changes_nothing(server, caplog):
    issue(server.book, "SH010")
    office = server.signed_in("office")
    posts = [route.path for route in server.app.routes if "POST" in (getattr(route, "methods", None) or ())]
    changing = [path for path in posts if path.startswith("/api/") and path != "/api/which"]
    assert len(changing) >= 5
    for path in changing:
        answer = office.post(re.sub("{[^}]+}", "SH010", path), json={})

        assert answer.status_code == 403, path
    assert caplog.text.count("to OFFICE at 127.0.0.1 (403): this is not for offices") == len(changing)


# Keys and cookies


def test_neither_keys_nor_cookies_stand_in_the_database(server):
    key = make_key(server.book, "editor", "ANN", "", "ANN").text
    client = server.client()
    client.post("/sign-in", data={"key": key})
    (cookie,) = client.cookies.values()
    content = b"".join(path.read_bytes() for path in server.book.folder.glob("book.sqlite*"))

    assert len(cookie) >= 43
    assert cookie.encode() not in content
    assert key.encode() not in content
    assert key.partition("-")[2].replace("-", "").encode() not in content


def test_two_keys_have_salts_of_their_own(server):
    for _ in range(2):
        make_key(server.book, "editor", "ANN", "", "ANN")
    with server.book.reading() as transaction:
        rows = transaction.execute(text("SELECT salt, digest FROM keys")).all()

    assert len({row.salt for row in rows}) == len({row.digest for row in rows}) == 2


@pytest.mark.parametrize("wrong", [WRONG, WRONG.replace("1-", "9-"), "", "no key", "1-" + "é" * 28, "9" * 500])
def test_a_wrong_key_is_hashed_and_compared_whether_there_is_such_a_key_or_not(server, monkeypatch, wrong):
    make_key(server.book, "editor", "ANN", "", "ANN")
    compared = []

    def seen(one, other):
        compared.append((len(one), len(other)))
        return False

    monkeypatch.setattr(keys.hmac, "compare_digest", seen)

    assert number_of(server.book, wrong) is None
    assert compared == [(32, 32)]


def test_the_cookie_is_kept_from_scripts_and_other_sites(server):
    key = make_key(server.book, "office", "ANN", "", "ANN").text
    cookie = server.client().post("/sign-in", data={"key": key}).headers["set-cookie"].lower()

    assert {"httponly", "samesite=strict", "path=/", f"max-age={14 * 24 * 3600}"} <= set(cookie.split("; "))
    assert "domain" not in cookie


def test_a_wrong_key_may_be_tried_10_times_a_minute_and_a_right_one_waits_too(server, caplog):
    key = make_key(server.book, "office", "ANN", "", "ANN").text
    client = server.client()
    found = [client.post("/sign-in", data={"key": WRONG}).status_code for _ in range(11)]
    last = client.post("/sign-in", data={"key": key})

    assert found == [403] * 10 + [429]
    assert (last.status_code, 0 <= int(last.headers["retry-after"]) <= 60) == (429, True)
    assert "too many wrong keys" in caplog.text


class Clock:
    def __init__(self):
        self.now = 1000.0

    def __call__(self):
        return self.now


def test_tries_are_counted_for_each_address_and_forgotten_after_a_minute():
    clock = Clock()
    some = tries.Tries(clock)
    assert [some.begin("192.0.2.1") for _ in range(tries.MOST_HERE)] == [0.0] * tries.MOST_HERE
    clock.now += 20

    assert some.begin("192.0.2.1") == 40.0
    assert some.begin("192.0.2.2") == 0.0
    clock.now += 40
    assert some.begin("192.0.2.1") == 0.0


def test_tries_from_everywhere_together_are_limited_and_a_network_of_ipv6_is_one_place():
    clock = Clock()
    some = tries.Tries(clock)
    many = [some.begin(f"10.0.{n // 5}.1") for n in range(tries.MOST_EVERYWHERE)]

    assert many == [0.0] * tries.MOST_EVERYWHERE
    assert some.begin("192.0.2.1") > 0
    assert tries.place_of("2001:db8::1") == tries.place_of("2001:db8::2:3") != tries.place_of("2001:db8:0:1::1")
    clock.now += 61
    assert some.begin("192.0.2.1") == 0.0
    assert list(some.by_place) == ["192.0.2.1"]


def test_a_right_key_counts_as_no_try():
    some = tries.Tries(Clock())
    for _ in range(3 * tries.MOST_HERE):
        assert some.begin("192.0.2.1") == 0.0
        some.was_right("192.0.2.1")

    assert len(some.every) == 0


def test_no_key_and_no_cookie_stands_in_the_log(server, caplog):
    caplog.set_level(logging.DEBUG)
    key = make_key(server.book, "office", "ANN", "", "ANN").text
    client = server.client()
    client.post("/sign-in", data={"key": WRONG})
    client.post("/sign-in", data={"key": key})
    client.get("/api/nowhere?key=" + key)
    client.get("/desk")
    ours = "\n".join(row.getMessage() for row in caplog.records if row.name.startswith(("trackread", "uvicorn")))

    assert "signed in" in ours
    assert key not in ours
    assert WRONG not in ours
    assert next(iter(client.cookies.values())) not in ours


def test_what_a_stranger_sends_begins_no_row_of_the_log(server, caplog):
    assert status_of(raw(server, get("/x%0A2026-11-26%20all%20is%20well%1B%5B2J"))) == 404
    (record,) = [row for row in caplog.records if "all is well" in row.getMessage()]

    assert "/x\\x0a2026-11-26 all is well\\x1b[2J" in OneRow("%(message)s").format(record)
