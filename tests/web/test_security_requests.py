"""What the server promises of what is sent to it: forged, from elsewhere, out of its folder, too much, too slow.

Sources: OWASP's cheat sheet for cross-site request forgery, RFC 9110 (408, 413, 421), W3C Content Security Policy 3 and
Fetch Metadata. All from memory.
"""

import socket
import time
from contextlib import suppress

import httpx
import pytest

from tests.web.served import PATIENCE, becomes, get, raw, served, status_of
from trackread.web import limits
from trackread.web.patience import PatientLine
from trackread.web.signing_in import local_path

# Host, origin, heads


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example", "evil.example:8470", "127.0.0.1@evil", ""])
def test_a_forged_host_is_refused(server, caplog, host):
    assert status_of(raw(server, get("/sign-in", host=host))) == 421
    assert "(421): this server is not called by that name" in caplog.text


@pytest.mark.parametrize("host", ["127.0.0.1", "localhost:1", "LOCALHOST", "[::1]:80", "localhost."])
def test_this_machines_own_names_are_known(server, host):
    assert status_of(raw(server, get("/sign-in", host=host))) == 200


def test_two_hosts_or_none_are_no_request(server):
    assert status_of(raw(server, get("/sign-in", "Host: localhost"))) == 400
    assert status_of(raw(server, b"GET /sign-in HTTP/1.0\r\n\r\n")) == 421


OTHERS = [
    {"Origin": "https://evil.example"},
    {"Origin": "null"},
    {"Origin": "http://127.0.0.1:1"},
    {"Sec-Fetch-Site": "cross-site"},
    {"Sec-Fetch-Site": "same-site"},
]


@pytest.mark.parametrize("heads", OTHERS)
def test_a_post_from_another_site_is_refused_even_with_the_cookie(server, caplog, heads):
    client = server.signed_in("editor")

    assert client.post("/sign-out", headers=heads).status_code == 403
    assert client.get("/api/office").status_code == 200
    assert "(403): it was sent by a page of another site" in caplog.text


def test_a_post_from_our_own_page_is_let_in(server):
    heads = {"Origin": server.address, "Sec-Fetch-Site": "same-origin"}

    assert server.signed_in("editor").post("/sign-out", headers=heads).status_code == 303


@pytest.mark.parametrize("address", ["/sign-in", "/static/common.css", "/nowhere", "/api/office"])
def test_every_answer_has_the_heads_that_keep_a_browser_safe(server, address):
    heads = server.client().get(address).headers
    policy = dict(part.split(" ", 1) for part in heads["content-security-policy"].split("; "))

    assert policy == {
        "default-src": "'self'",
        "img-src": "'self' data: blob:",
        "media-src": "'self' blob:",
        "object-src": "'none'",
        "base-uri": "'none'",
        "form-action": "'self'",
        "frame-ancestors": "'none'",
    }
    assert heads["x-content-type-options"] == "nosniff"
    assert heads["referrer-policy"] == "same-origin"
    assert "camera=()" in heads["permissions-policy"]
    assert "server" not in heads


def test_what_somebody_typed_is_text_on_the_page(server):
    page = server.client().get("/sign-in", params={"next": '"><script>alert(1)</script>'}).text

    assert "<script>alert" not in page
    assert local_path('/"><script>') == '/"><script>'


# Static files


TRAVERSALS = [
    "/static/../app.py",
    "/static/%2e%2e/app.py",
    "/static/%2e%2e%2fapp.py",
    "/static/..%5capp.py",
    "/static/..\\app.py",
    "/static/%00",
    "/static/common.css%00.html",
    "/static//etc/passwd",
    "/static/%2fetc%2fpasswd",
    "/static/" + "%2e%2e/" * 12 + "etc/passwd",
    "/static/" + "a" * 5000,
    "/../../etc/passwd",
]


@pytest.mark.parametrize("path", TRAVERSALS)
def test_no_path_leaves_the_folder(server, caplog, path):
    answer = raw(server, get(path))

    assert status_of(answer) == 404
    assert "root:" not in answer
    assert "import" not in answer
    assert "(404)" in caplog.text


def test_static_files_are_sent_again_only_if_they_are_others(server):
    client = server.client()
    first = client.get("/static/common.css")
    again = client.get("/static/common.css", headers={"If-None-Match": first.headers["etag"]})

    assert (first.status_code, again.status_code, again.content) == (200, 304, b"")
    assert first.headers["cache-control"] == again.headers["cache-control"] == "no-cache"
    assert first.headers["content-type"].startswith("text/css")


# Too much, too slow


TWO_GB = 2 * 2**30


def test_an_upload_of_2_gb_is_refused_before_any_of_it_is_read(server, caplog):
    head = f"POST /sign-in HTTP/1.1\r\nHost: localhost\r\nContent-Length: {TWO_GB}\r\n\r\n"
    answer = raw(server, head.encode())

    assert status_of(answer) == 413
    assert "connection: close" in answer.lower()
    assert "(413): it sends too much: 16 kB at most" in caplog.text


@pytest.mark.parametrize(("role", "most"), [(None, limits.MOST_UNSIGNED), ("editor", limits.MOST)])
def test_an_upload_that_does_not_say_its_length_is_counted_and_cut_off(server, caplog, role, most):
    client = server.signed_in(role) if role else server.client()
    sent = 0

    def endless():
        nonlocal sent
        while sent < TWO_GB:
            sent += 65536
            yield bytes(65536)

    with suppress(httpx.HTTPError):  # the line may be closed while it is still sending
        assert client.post("/api/takes/L0001-1/circle", content=endless()).status_code == 413

    told = "16 kB" if role is None else "2 MB"
    assert f"(413): it sends too much: {told} at most" in caplog.text
    assert sent < most + 64 * 2**20  # what the line itself holds
    assert server.client().get("/sign-in").status_code == 200


class QuickLine(PatientLine):
    head_seconds = 0.5
    taken_seconds = 0.5


@pytest.fixture
def impatient(folder, monkeypatch):
    monkeypatch.setattr(limits.Limits.__init__, "__defaults__", (0.5,))
    with served(folder, line=QuickLine) as server:
        yield server


@pytest.mark.parametrize("begun", [b"", b"G", b"GET /sign-in HTTP/1.1\r\nHost: localhost\r\nX-Slow: "])
def test_a_head_that_does_not_come_in_time_is_waited_for_no_longer(impatient, caplog, begun):
    assert raw(impatient, begun) == ""
    assert "refused 127.0.0.1: no whole request came within 0.5 s" in caplog.text


def test_a_head_that_drips_in_is_waited_for_no_longer(impatient, caplog):
    begun = time.monotonic()
    with socket.create_connection(("127.0.0.1", impatient.port), timeout=PATIENCE) as line:
        line.sendall(b"GET / HTTP/1.1\r\nX-Slow: ")
        try:
            while time.monotonic() - begun < PATIENCE:
                line.sendall(b"a")
                time.sleep(0.1)
        except ConnectionError:
            pass

    assert time.monotonic() - begun < 5
    assert "refused 127.0.0.1: no whole request came within 0.5 s" in caplog.text


def test_a_body_that_does_not_come_in_time_is_waited_for_no_longer(impatient, caplog):
    head = b"POST /sign-in HTTP/1.1\r\nHost: localhost\r\nContent-Length: 100\r\n\r\nkey="

    assert status_of(raw(impatient, head)) == 408
    assert "(408): what it sends did not come within 0.5 s" in caplog.text


def test_an_answer_that_nobody_takes_is_thrown_away(impatient, caplog):
    client = impatient.signed_in("office")
    cookie = "; ".join(f"{name}={value}" for name, value in client.cookies.items())
    with socket.socket() as line:
        line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        line.connect(("127.0.0.1", impatient.port))
        line.sendall(get("/api/live", f"Cookie: {cookie}"))
        told = {"name": "L0001-1", "words": "x" * 100_000}

        assert becomes(
            lambda: impatient.app.state.live.tell("take", told) or "did not take its answer within" in caplog.text
        )
    assert becomes(lambda: not impatient.app.state.live.queues)


def test_what_is_no_http_is_refused_and_logged(server, caplog):
    assert status_of(raw(server, b"\x16\x03\x01 hello\r\n\r\n")) == 400
    assert "refused 127.0.0.1 (400): what it sent is no HTTP" in caplog.text


def test_an_address_that_a_proxy_claims_is_not_believed(server, caplog):
    server.client().get("/api/office", headers={"X-Forwarded-For": "192.0.2.77", "X-Forwarded-Proto": "https"})

    assert "192.0.2.77" not in caplog.text
    assert "127.0.0.1" in caplog.text
