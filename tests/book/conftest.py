"""Every test of the book runs on SQLite and on a PostgreSQL server of its own, where one is installed.

The server has a new cluster, a socket and no network, and forgets a power cut in favour of speed.
"""

import grp
import itertools
import os
import pwd
import shutil
import subprocess
import tempfile
from contextlib import ExitStack
from pathlib import Path

import psycopg
import pytest

from tests.book.makers import a_production
from trackread.book.book import Book

# initdb and postgres refuse to run as root.
SERVER_USERS = ("postgres", "nobody")

COUNT = itertools.count(1)


def server_program(name):
    """Where a program of PostgreSQL's server is, None if it is not installed."""
    versions = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda path: float(path.parent.name), reverse=True)
    return shutil.which(name, path=os.pathsep.join([os.environ.get("PATH", ""), *map(str, versions)]))


def as_server():
    """Who runs the server: somebody else if this is root."""
    if os.geteuid() != 0:
        return {}
    names = {entry.pw_name: entry for entry in pwd.getpwall()}
    user = next(names[name] for name in SERVER_USERS if name in names)
    return {"user": user.pw_uid, "group": grp.getgrgid(user.pw_gid).gr_gid, "extra_groups": []}


@pytest.fixture(scope="session")
def server():
    """The connection string of a running server."""
    if not server_program("initdb") or not server_program("pg_ctl"):
        pytest.skip("PostgreSQL's server (initdb, pg_ctl) is not installed")
    # Not in pytest's own folder: nobody but its owner may enter that, and a socket's path is at most 107 bytes.
    with tempfile.TemporaryDirectory(prefix="trackread-") as place:
        who = as_server()
        if who:
            os.chown(place, who["user"], who["group"])
        data, log = f"{place}/data", f"{place}/log"

        def run(program, *words):
            subprocess.run([server_program(program), *words], check=True, cwd=place, stdout=subprocess.DEVNULL, **who)

        run("initdb", "-D", data, "-U", "trackread", "--auth=trust", "--encoding=UTF8", "--no-locale", "--no-sync")
        options = f"-k {place} -c listen_addresses= -c fsync=off -c full_page_writes=off -c synchronous_commit=off"
        run("pg_ctl", "-D", data, "-l", log, "-w", "-o", options, "start")
        try:
            yield f"host={place} user=trackread"
        finally:
            run("pg_ctl", "-D", data, "-m", "immediate", "stop")


@pytest.fixture
def server_database(server):
    """Makes new databases on the server, gone at the end of the test, and gives their addresses."""
    host = server.split()[0].removeprefix("host=")
    made = []
    with psycopg.connect(f"{server} dbname=postgres", autocommit=True) as connection:

        def make():
            made.append(f"tram{next(COUNT)}")
            connection.execute(f"CREATE DATABASE {made[-1]}")
            return f"postgresql://trackread:secret@/{made[-1]}?host={host}"

        yield make
        for name in made:
            connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture(params=["sqlite", "postgresql"])
def new_database(request):
    """Gives the value of `database` in a new production's settings; each time it is called for a new, empty one."""
    return (lambda: "") if request.param == "sqlite" else request.getfixturevalue("server_database")


@pytest.fixture
def new_book(tmp_path, new_database):
    """Makes books, closed at the end of the test."""
    with ExitStack() as opened:

        def make(name="tram", **changes):
            production = a_production(database=new_database(), **changes)
            return opened.enter_context(Book.create(tmp_path / name, production))

        yield make


@pytest.fixture
def book(new_book):
    """An empty book of The Late Tram."""
    return new_book()


@pytest.fixture
def small_disk(tmp_path):
    """A folder on a disk of its own with room for 4 MB; only root can mount one."""
    place = tmp_path / "disk"
    place.mkdir()
    mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=4m", "none", place], capture_output=True, check=False)
    if mounted.returncode:
        pytest.skip("a small disk can be mounted by root only")
    try:
        yield place
    finally:
        subprocess.run(["umount", "--lazy", place], check=True)
