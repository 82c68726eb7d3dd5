"""The desk: where an editor hears takes, goes through what is in doubt, and makes readings right.

Who writes names the revision that was seen (If-Match); where the take is another by now, 412 tells both versions.
"""

from collections.abc import Callable
from dataclasses import asdict
from functools import partial
from typing import cast

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from trackread.core.phones import PHONES
from trackread.errors import ClashError, CorrectionError
from trackread.web.answers import answer, refused, revision_asked
from trackread.web.known import unless_known
from trackread.web.pages import page, scripts
from trackread.web.posted import Posted, values_posted, with_body
from trackread.web.sound import sound_answer
from trackread.web.visitors import Role, may, visitor_of
from trackread.workflow.decisions import circle
from trackread.workflow.desk_corrections import (
    again_at_desk,
    asked_in_words,
    correct_at_desk,
    parsed,
    redo_at_desk,
    undo_at_desk,
)
from trackread.workflow.desk_doubts import WORTH, Doubts, doubts_in_order, lines_with_takes
from trackread.workflow.desk_keys import desk_keys
from trackread.workflow.desk_line import line_at_desk
from trackread.workflow.desk_take import AtDesk, at_desk, desk_take, log_since, mouths_of, named_at_desk, pitch_of
from trackread.workflow.hearing_again import Ears
from trackread.workflow.take_sound import sound_tag, take_extremes, take_sound, take_spectra

MODULES = ("take*.js", "keys.js", "live.js", "when.js")  # of the page of a take
MOST_DOUBTS = 500  # told at once: more than anybody hears in a day

Write = Callable[[Request, Posted, str], AtDesk]  # what is done on a revision, and what the take is then
readers = may(Role.EDITOR, Role.OFFICE)
editors = may(Role.EDITOR)


@editors
def desk_page(request: Request) -> Response:
    """The list of takes."""
    return page(request, "desk.html")


@editors
def take_page(request: Request) -> Response:
    """One take, to be heard and made right."""
    take, line = named_at_desk(request.app.state.book, name_of(request))
    return page(request, "desk_take.html", take=take.name, line=line, modules=scripts(*MODULES))


@readers
def takes_list(request: Request) -> Response:
    """Every line that has takes, and what is left in doubt in each of them."""
    book, doubts = request.app.state.book, doubts_of(request).all()
    left = sum(len(one.doubtful) for one in doubts.values())
    return answer({"lines": lines_with_takes(book, doubts), "left": left, "worth": WORTH})


@readers
def line_takes(request: Request) -> Response:
    """A line with its takes, so that they can be heard against each other."""
    return answer(line_at_desk(request.app.state.book, str(request.path_params["line"])))


@readers
def doubts_list(request: Request) -> Response:
    """What is worth an ear in all takes, that most which is worth it most; `left` counts all of it."""
    every = doubts_in_order(doubts_of(request).all())
    places = [{"take": one.take.name, **asdict(word)} for one, word in every[:MOST_DOUBTS]]
    return answer({"left": len(every), "places": places, "worth": WORTH})


@readers
def take(request: Request) -> Response:
    """A take as it stands."""
    one = at_desk(request.app.state.book, name_of(request))
    return answer(desk_take(one), revision=one.revision)


@readers
def pitch(request: Request) -> Response:
    """The pitch of a take, which is long and never another."""
    return answer(pitch_of(at_desk(request.app.state.book, name_of(request))))


@readers
def mouths(request: Request) -> Response:
    """What the puppet would wear on some frames, which a correction may have changed."""
    book, first, stop = request.app.state.book, number(request, "from"), number(request, "to")
    one = at_desk(book, name_of(request))
    return answer(mouths_of(book, one, first, stop), revision=one.revision)


@readers
def log(request: Request) -> Response:
    """All corrections of a take."""
    one = at_desk(request.app.state.book, name_of(request))
    return answer({"corrections": log_since(one, 0)}, revision=one.revision)


@readers
def peaks(request: Request) -> Response:
    """The lowest and highest samples of even parts of a stretch of the take."""
    first, stop, count = (number(request, name) for name in ("from", "to", "count"))
    return answer(asdict(take_extremes(request.app.state.book, name_of(request), first, stop, count)))


@readers
def spectra(request: Request) -> Response:
    """How strong each band of frequencies is in some rows of samples: a byte a band, row after row."""
    book, name = request.app.state.book, name_of(request)
    first, step, rows, below = (number(request, one) for one in ("from", "step", "rows", "below"))
    tag = f"{sound_tag(book, name)}-{first}-{step}-{rows}-{below}"
    found = partial(take_spectra, book, name, (first, step, rows), below)
    return unless_known(request, tag, found, "application/octet-stream")


@readers
def sound(request: Request) -> Response:
    """The take's samples as a wave file."""
    book, name = request.app.state.book, name_of(request)
    played = take_sound(book, name)
    return sound_answer(request, sound_tag(book, name), played.size, played.content)


@readers
def keys(request: Request) -> Response:
    """The keys that the production wants otherwise, and the sounds that a phone can be."""
    return answer({"keys": desk_keys(request.app.state.book.folder), "phones": list(PHONES)})


@editors
def circle_take(request: Request) -> Response:
    """Circles a take or takes its circle away. Whoever does it says which, so nobody's circle is lost by it."""
    on = values_posted(request).get("on")
    if not isinstance(on, bool):
        raise CorrectionError(f"on is {on!r}: say true to circle the take, false to take its circle away")
    (found,) = circle(request.app.state.book, [name_of(request)], author_of(request), on=on)
    tell(request, found.name, "")
    return answer({"name": found.name, "circled": found.circled})


def add_correction(request: Request, asked: Posted, revision: str) -> AtDesk:
    return correct_at_desk(request.app.state.book, name_of(request), asked, author_of(request), revision)


def hear_again(request: Request, asked: Posted, revision: str) -> AtDesk:
    book, ears = request.app.state.book, ears_of(request)
    return again_at_desk(book, name_of(request), asked, author_of(request), revision, hear=ears)


def undo(request: Request, _asked: Posted, revision: str) -> AtDesk:
    return undo_at_desk(request.app.state.book, name_of(request), author_of(request), revision)


def redo(request: Request, _asked: Posted, revision: str) -> AtDesk:
    return redo_at_desk(request.app.state.book, name_of(request), author_of(request), revision)


def written(write: Write) -> Callable[[Request], Response]:
    """An endpoint that writes on the revision that was seen, and answers the take as it stands then."""

    def endpoint(request: Request) -> Response:
        revision, asked = revision_asked(request), values_posted(request)
        if revision is None:
            return refused(request, 428, "say which revision you have seen: If-Match with the ETag of the take")
        try:
            one = write(request, asked, revision)
        except ClashError as clash:
            return clashed(request, clash, asked, revision)
        tell(request, one.seen.take.name, one.revision)
        return answer(desk_take(one), revision=one.revision)

    return editors(endpoint)


def clashed(request: Request, clash: ClashError, asked: Posted, revision: str) -> Response:
    """Both versions: what was asked for, on what was seen, and the take with what others made of it since."""
    one = at_desk(request.app.state.book, name_of(request))
    same = parsed(revision)[0] == parsed(one.revision)[0]
    return refused(
        request,
        412,
        str(clash),
        yours={"asked": dict(asked), "words": asked_in_words(one, asked, revision), "revision": revision},
        theirs=log_since(one, parsed(revision)[1]) if same else [],
        take=desk_take(one),
    )


def tell(request: Request, name: str, revision: str) -> None:
    """Tells all pages that a take is another now."""
    told = {"kind": "take", "name": name, "revision": revision, "by": author_of(request)}
    request.app.state.live.tell("take", told)


def author_of(request: Request) -> str:
    visitor = visitor_of(request)
    return visitor.name if visitor else ""


def name_of(request: Request) -> str:
    return str(request.path_params["name"])


def number(request: Request, name: str) -> int:
    """A number in what is asked for. Raises CorrectionError if it is none."""
    text = request.query_params.get(name, "")
    if not (text.isascii() and text.isdigit() and len(text) < 16):
        raise CorrectionError(f"{name} is {text!r}: say a whole number")
    return int(text)


def doubts_of(request: Request) -> Doubts:
    """What is in doubt, kept beside the book that the server has open."""
    state = request.app.state
    if not hasattr(state, "doubts"):
        state.doubts = Doubts(state.book)
    return cast(Doubts, state.doubts)


def ears_of(request: Request) -> Ears:
    """What hears a stretch again, kept with the server."""
    state = request.app.state
    if not hasattr(state, "ears"):
        state.ears = Ears()
    return cast(Ears, state.ears)


TAKE = "/api/takes/{name}"
routes: list[BaseRoute] = [
    Route("/desk", desk_page),
    Route("/desk/take/{name}", take_page),
    Route("/api/takes", takes_list),
    Route("/api/doubts", doubts_list),
    Route("/api/keys", keys),
    Route("/api/lines/{line}", line_takes),
    Route(TAKE, take),
    Route(f"{TAKE}/pitch", pitch),
    Route(f"{TAKE}/mouths", mouths),
    Route(f"{TAKE}/log", log),
    Route(f"{TAKE}/peaks", peaks),
    Route(f"{TAKE}/spectra", spectra),
    Route(f"{TAKE}/sound", sound),
    Route(f"{TAKE}/circle", with_body(circle_take), methods=["POST"]),
    Route(f"{TAKE}/corrections", with_body(written(add_correction)), methods=["POST"]),
    Route(f"{TAKE}/again", with_body(written(hear_again)), methods=["POST"]),
    Route(f"{TAKE}/undo", with_body(written(undo)), methods=["POST"]),
    Route(f"{TAKE}/redo", with_body(written(redo)), methods=["POST"]),
]
