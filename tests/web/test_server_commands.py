"""The commands `key` and `serve`: what they print, what they refuse, and how a server ends."""

import re
import shutil
import signal
import socket
import ssl
import subprocess
import sys
from contextlib import contextmanager

import httpx
import pytest

from tests.web.served import PATIENCE, Listener
from trackread.book.book import Book
from trackread.cli.main import main
from trackread.workflow.keys import all_keys


@pytest.fixture
def run(capsys, folder):
    """Runs a command on the production and gives its status, output and errors."""

    def run(*arguments):
        with pytest.raises(SystemExit) as left:
            main([*map(str, arguments), "--production", str(folder)])
        told = capsys.readouterr()
        return left.value.code, told.out, told.err

    return run


@contextmanager
def commanded(folder, *options):
    """The command `serve` as a program of its own: it, its address, and what it printed first."""
    code = "from trackread.cli.main import main; main()"
    words = ["serve", "--port", "0", "--production", str(folder), "--author", "ANN", *map(str, options)]
    program = subprocess.Popen(
        [sys.executable, "-u", "-c", code, *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    with program:
        try:
            told = program.stdout.readline() + program.stdout.readline()
            yield program, re.search("https?://[^ \n]+", told)[0], told
        finally:
            program.kill()


def a_certificate(tmp_path):
    """A certificate for 127.0.0.1 that signs itself, and its key."""
    files = tmp_path / "certificate.pem", tmp_path / "key.pem"
    if not shutil.which("openssl"):
        pytest.skip("openssl is not installed")
    words = "req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -subj /CN=tram -days 2"
    names = ["-addext", "subjectAltName=IP:127.0.0.1", "-out", files[0], "-keyout", files[1]]
    subprocess.run(["openssl", *words.split(), *names], check=True, capture_output=True)
    return files


def test_keys_are_made_listed_and_revoked_by_command(run, folder):
    status, told, _ = run("key", "add", "--role", "unit", "--unit", "7", "--name", "TESS")
    text = re.search(r"1(-[0-9A-Z]{4}){7}", told)[0]
    listed = run("key", "list")[1]

    assert status == 0
    assert "TESS" in listed
    assert text.split("-")[1] not in listed
    assert run("key", "revoke", "1")[0] == 0
    assert "no keys" in run("key", "list")[1]
    assert "revoked at" in run("key", "revoke", "1")[2]
    with Book.open(folder) as book:
        assert text.encode() not in b"".join(one.read_bytes() for one in book.folder.glob("book.sqlite*"))


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (("--role", "king", "--name", "ANN"), "'king' is no role: it is editor, unit, office"),
        (("--role", "unit", "--name", "ANN"), "the key of a unit needs its name"),
        (("--role", "office", "--name", "ANN", "--unit", "7"), "the key of office is of no unit"),
        (("--role", "office", "--name", " "), "the name is empty"),
    ],
)
def test_a_key_that_makes_no_sense_is_refused(run, arguments, why):
    assert why in run("key", "add", *arguments)[2]


@pytest.mark.parametrize(
    ("arguments", "why"),
    [
        (("--host", "0.0.0.0"), "can be reached from the network: if that is meant, say --on-network"),
        (("--host", "0.0.0.0", "--on-network"), "nobody could sign in: make a key first"),
        (("--cert", "a.pem"), "TLS needs both"),
        (("--cert", "a.pem", "--key-file", "b.pem"), "a.pem cannot be read: No such file"),
    ],
)
def test_a_server_that_is_not_to_be_is_refused(run, arguments, why):
    status, _, errors = run("serve", "--port", "0", *arguments)

    assert status == 1
    assert why in errors


def test_a_host_that_is_none_is_told(run):
    run("key", "add", "--role", "editor", "--name", "ANN")

    assert "no machine is called so" in run("serve", "--port", "0", "--on-network", "--host", "no machine")[2]


def test_a_port_that_is_taken_is_told(run):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        status, _, errors = run("serve", "--port", taken.getsockname()[1])

    assert status == 1
    assert "something else listens there: choose another --port" in errors


def test_files_that_make_no_certificate_are_told(run, tmp_path):
    file = tmp_path / "a.pem"
    file.write_text("no PEM")

    assert "make no certificate: both must be PEM" in run("serve", "--cert", file, "--key-file", file)[2]


def test_a_folder_without_a_production_is_told(capsys, tmp_path):
    with pytest.raises(SystemExit):
        main(["serve", "--production", str(tmp_path)])

    assert "production.toml" in capsys.readouterr().err


@pytest.mark.parametrize("stop", [signal.SIGINT, signal.SIGTERM])
def test_the_command_serves_and_stops_when_it_is_told_while_a_page_listens(folder, stop):
    with commanded(folder) as (program, address, told):
        once = re.search("once=([^ \n]+)", told)[1]
        with httpx.Client(base_url=address, timeout=PATIENCE) as client:
            first = client.post("/sign-in", data={"once": once})
            listener = Listener(client)
            program.send_signal(stop)
            status = program.wait(PATIENCE)
        ended, logged = listener.ended.wait(PATIENCE), program.stderr.read()

    assert first.headers["location"] == "/desk"
    assert (status, ended) == (0, True)
    assert "ANN signed in from 127.0.0.1 as editor" in logged
    assert once not in logged
    assert "Traceback" not in logged


def test_a_second_start_needs_no_second_key(folder):
    for _ in range(2):
        with commanded(folder) as (_, _, told):
            assert "Sign in here as ANN, once: http://127.0.0.1" in told
    with Book.open(folder) as book:
        assert [note.number for note in all_keys(book, revoked=True)] == [1]


def test_tls_is_served_by_a_given_certificate_with_a_secure_cookie(folder, tmp_path):
    certificate, key = a_certificate(tmp_path)
    trusting = ssl.create_default_context(cafile=certificate)
    with commanded(folder, "--cert", certificate, "--key-file", key) as (_, address, told):
        once = re.search("once=([^ \n]+)", told)[1]
        with httpx.Client(base_url=address, verify=trusting, timeout=PATIENCE) as client:
            answer = client.post("/sign-in", data={"once": once}, headers={"Origin": address})

    assert address.startswith("https://")
    assert answer.status_code == 303
    assert "; Secure" in answer.headers["set-cookie"]
