"""Words that are typed at the desk, or in a command, and heard again: by the real engines, in a process of their own.

The recording is noise, in which a faithful reader finds the words that it is told of; what is asked here is what
becomes of the take, not how well it is heard (tests/reading/test_again.py).
"""

import json

import pytest

from tests.web.desks import a_desk, serving
from trackread.book.book import Book
from trackread.book.corrections import corrections
from trackread.core.correction import Reread
from trackread.core.plain_correction import correction_from_plain

TAKE = "/api/takes/L0001-1"  # Mind the step, ticket!


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    with serving(a_desk(tmp_path_factory.mktemp("desk"))) as desk:
        yield desk
        desk.app.state.ears.close()


def seen(desk):
    return desk.get(TAKE)


def asked(desk, revision=None, **values):
    headers = {"If-Match": f'"{revision or seen(desk).json()["revision"]}"'}
    return desk.post(f"{TAKE}/again", content=json.dumps(values), headers=headers, timeout=60)


def texts(told):
    return [word["text"] for word in told["words"]]


def test_words_are_heard_again_undone_and_made_again(desk):
    before = seen(desk).json()
    told = asked(desk, first=1, last=1, text="that old")
    after = told.json()
    undone = desk.post(f"{TAKE}/undo", headers={"If-Match": told.headers["etag"]})
    redone = desk.post(f"{TAKE}/redo", headers={"If-Match": undone.headers["etag"]})
    back = desk.post(f"{TAKE}/undo", headers={"If-Match": redone.headers["etag"]}).json()

    assert (told.status_code, undone.status_code, redone.status_code) == (200, 200, 200)
    assert texts(after) == ["Mind", "that", "old", "step,", "ticket!"]
    assert after["cuts"][after["words"][4]["first"]] == before["cuts"][before["words"][3]["first"]]
    assert after["undo"].startswith("'Mind that old step,' is said on frames")
    assert [texts(one) for one in (undone.json(), redone.json())] == [texts(before), texts(after)]
    for part in ("words", "syllables", "phones", "cuts", "pins", "phrases", "departures", "events"):
        assert back[part] == before[part]


def test_a_word_that_is_not_said_goes(desk):
    told = asked(desk, first=1, last=1, text=" ").json()
    desk.post(f"{TAKE}/undo", headers={"If-Match": f'"{told["revision"]}"'})

    assert texts(told) == ["Mind", "step,", "ticket!"]


@pytest.mark.parametrize(
    ("values", "why"),
    [
        ({"first": 2, "last": 1, "text": "a"}, "the last word comes before the first"),
        ({"first": 0, "last": 4, "text": "a"}, "there is no last 4: they run from 0 to 3"),
        ({"first": 0, "last": 1}, "say a text"),
        ({"first": 1, "last": 1, "text": "щука"}, "cannot be heard so"),
        ({"first": 1, "last": 1, "text": "the " * 400}, "cannot be heard so"),
        ({"first": 1, "last": 1, "text": "the"}, None),
    ],
)
def test_what_cannot_be_heard_is_refused_and_nothing_is_written(desk, values, why):
    before = seen(desk).json()
    told = asked(desk, **values)
    if why is None:  # the same words: heard again in another way, which is a change
        assert told.status_code == 200
        desk.post(f"{TAKE}/undo", headers={"If-Match": told.headers["etag"]})
        return
    after = seen(desk).json()

    assert told.status_code == 400
    assert why in told.json()["problem"]
    assert after["revision"] == before["revision"]


def test_a_take_that_others_changed_meanwhile_is_told_with_both_versions(desk):
    old = seen(desk).json()["revision"]
    headers = {"If-Match": f'"{old}"'}
    noted = desk.post(f"{TAKE}/corrections", json={"kind": "note", "sample": 5, "text": "look"}, headers=headers)
    told = asked(desk, revision=old, first=1, last=1, text="that old")

    assert (noted.status_code, told.status_code) == (200, 412)
    assert told.json()["yours"]["words"] == "'that old' is said there"
    assert [one["words"] for one in told.json()["theirs"]] == ["note on frame 1: look"]


def test_when_the_process_that_hears_dies_the_next_asks_a_new_one(desk):
    ears = desk.app.state.ears
    for process in list(ears.process._processes.values()):
        process.kill()
        process.join()
    refused = asked(desk, first=1, last=1, text="that old")
    told = asked(desk, first=1, last=1, text="that old")

    assert (refused.status_code, told.status_code) == (400, 200)
    assert "ask again" in refused.json()["problem"]


def test_the_command_hears_again_too(tmp_path, capsys):
    from trackread.cli.main import main

    folder = a_desk(tmp_path)
    with pytest.raises(SystemExit) as left:
        main(["correct", "again", "L0001-1", "the", "step", "those steps", "--production", str(folder)])
    with Book.open(folder) as book:
        (note,) = corrections(book, "L0001-1")

    assert left.value.code == 0
    assert capsys.readouterr().out.startswith("L0001-1, correction 1: 'Mind those steps ticket!' is said on frames")
    assert isinstance(correction_from_plain(note.body), Reread)
