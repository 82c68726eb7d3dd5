"""The server: signing in and out, whose pages are whose, and what is refused in which form."""

from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import func, select, update

from tests.web.served import becomes, issue, served
from trackread.book.tables import VisitRow
from trackread.workflow.correcting import correct, move
from trackread.workflow.keys import make_key
from trackread.workflow.telling import tell_done


@pytest.mark.parametrize(
    ("role", "unit", "home", "not_theirs"),
    [("editor", "", "/desk", None), ("unit", "7", "/floor", "/office"), ("office", "", "/office", "/desk")],
)
def test_everybody_is_led_to_their_own_page_and_kept_out_of_others(server, role, unit, home, not_theirs):
    client = server.client()

    answer = client.post("/sign-in", data={"key": make_key(server.book, role, "ANN", unit, "ANN").text})

    assert (answer.status_code, answer.headers["location"]) == (303, home)
    assert client.get("/").headers["location"] == home
    assert client.get("/api/me").json() == {"role": role, "name": "ANN", "unit": unit}
    assert not_theirs is None or client.get(not_theirs).status_code == 403


def test_a_key_may_be_typed_small_without_dashes_and_with_letters_that_look_alike(server):
    text = make_key(server.book, "office", "ANN", "", "ANN").text
    sloppy = text.replace("-", " ").lower().replace("0", "o").replace("1", "l")

    assert server.client().post("/sign-in", data={"key": sloppy}).status_code == 303


def test_a_key_has_128_bits_in_groups_of_letters_of_which_none_looks_like_another(server):
    number, *groups = make_key(server.book, "office", "ANN", "", "ANN").text.split("-")

    assert number == "1"
    assert {len(group) for group in groups} == {4}
    assert not set("ILOU") & set("".join(groups))
    assert len("".join(groups)) * 5 >= 128


def test_who_signs_in_goes_on_to_where_they_wanted_to(server):
    browser = server.client(headers={"Accept": "text/html"})
    there = browser.get("/office")
    key = make_key(server.book, "office", "ANN", "", "ANN").text

    assert (there.status_code, there.headers["location"]) == (303, "/sign-in?next=/office")
    assert browser.post("/sign-in", data={"key": key, "next": "/office"}).headers["location"] == "/office"


@pytest.mark.parametrize("elsewhere", ["//evil.example", "https://evil.example", "/\\evil.example", "/\t/evil.example"])
def test_nobody_is_led_elsewhere_by_an_address_to_sign_in_at(server, elsewhere):
    key = make_key(server.book, "office", "ANN", "", "ANN").text

    assert server.client().post("/sign-in", data={"key": key, "next": elsewhere}).headers["location"] == "/office"


def test_signing_out_ends_the_cookie_on_the_server_too(server):
    client = server.signed_in("office")
    cookies = dict(client.cookies)

    assert client.post("/sign-out").status_code == 303
    assert server.client(cookies=cookies).get("/api/office").status_code == 401


def test_who_has_signed_in_stays_so_when_the_server_starts_again(folder):
    with served(folder) as server:
        (cookie,) = server.signed_in("office").cookies.values()
    with served(folder) as again:
        client = again.client(cookies={f"trackread-{again.port}": cookie})

        assert client.get("/api/office").status_code == 200


def visits(book):
    """How many browsers are known to have signed in."""
    with book.reading() as transaction:
        return transaction.scalar(select(func.count(VisitRow.digest)))


def test_nobody_stays_signed_in_for_more_than_14_days(server):
    client = server.signed_in("office")
    assert client.get("/api/office").status_code == 200
    long_ago = (datetime.now(UTC) - timedelta(days=14, minutes=1)).strftime("%Y-%m-%dT%H:%M:%SZ")
    with server.book.writing() as transaction:
        transaction.execute(update(VisitRow).values(started=long_ago))

    assert client.get("/api/office").status_code == 401


def test_who_signed_in_a_month_ago_is_forgotten_when_the_server_starts(folder):
    with served(folder) as server:
        server.signed_in("office")
        server.signed_in("office")
        with server.book.writing() as transaction:
            first = select(VisitRow.digest).limit(1).scalar_subquery()
            long_ago = (datetime.now(UTC) - timedelta(days=31)).strftime("%Y-%m-%dT%H:%M:%SZ")
            transaction.execute(update(VisitRow).where(VisitRow.digest == first).values(started=long_ago))

        assert visits(server.book) == 2
    with served(folder) as again:
        assert becomes(lambda: visits(again.book) == 1)


def test_a_printed_address_signs_in_once(server):
    number = make_key(server.book, "editor", "ANN", "", "ANN").note.number
    once = server.app.state.once.make(number)

    assert once in server.client().get(f"/sign-in?once={once}").text
    assert server.client().post("/sign-in", data={"once": once}).headers["location"] == "/desk"
    assert server.client().post("/sign-in", data={"once": once}).status_code == 403


def test_a_refusal_is_a_page_for_people_and_json_for_scripts(server):
    office = server.signed_in("office")
    for_people = office.get("/desk", headers={"Accept": "text/html"})

    assert for_people.status_code == 403
    assert "That is not yours" in for_people.text
    assert office.get("/nowhere").json() == {"problem": "there is nothing at this address"}
    assert office.get("/api/nowhere", headers={"Accept": "text/html"}).headers["content-type"] == "application/json"


def test_a_fault_of_ours_is_told_as_one_and_has_safe_heads_too(server, monkeypatch):
    def broken(_book):
        raise RuntimeError("a bug")

    monkeypatch.setattr("trackread.web.office.what_is_shot", broken)
    answer = server.signed_in("office").get("/api/office")

    assert (answer.status_code, answer.json()["problem"][:18]) == (500, "a fault of trackre")
    assert "default-src 'self'" in answer.headers["content-security-policy"]


def test_the_office_sees_every_shot(server):
    issue(server.book, "SH010")
    tell_done(server.book, "SH010", 12, "ANN")
    first, second = server.signed_in("office").get("/api/office").json()["shots"]

    assert (first["shot"], first["unit"], first["issue"], first["done"], first["of"]) == ("SH010", "7", 1, 12, 48)
    assert first["time"].endswith("Z")
    assert (second["shot"], second["unit"], second["issue"], second["time"]) == ("SH020", "", None, None)


def test_the_office_sees_which_sheets_are_stale_also_when_it_comes_later(server):
    issue(server.book, "SH010", "SH020")
    correct(server.book, "L0001-1", move("ticket!", 13), "ANN")
    office = server.signed_in("office")

    assert becomes(lambda: [shot["stale"] for shot in office.get("/api/office").json()["shots"]] == [True, False])


def test_many_who_sign_in_at_once_are_all_let_in(server):
    texts = [make_key(server.book, "office", f"BO {number}", "", "ANN").text for number in range(8)]
    clients = [server.client() for _ in texts]
    with ThreadPoolExecutor(len(texts)) as threads:
        found = threads.map(
            lambda one: one[0].post("/sign-in", data={"key": one[1]}).status_code, zip(clients, texts, strict=True)
        )

        assert list(found) == [303] * len(texts)
