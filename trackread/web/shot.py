"""A shot at the desk: all its voices side by side, their takes to be made right, and mouths set by hand.

Who sets a mouth names the revision that was seen (If-Match); where somebody has set one since, 412 tells both versions.
"""

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from trackread.errors import ClashError
from trackread.web.answers import answer, refused, revision_asked
from trackread.web.floor import sheets_of
from trackread.web.known import unless_known
from trackread.web.pages import page, scripts
from trackread.web.posted import Posted, values_posted, with_body
from trackread.web.sound import sound_answer
from trackread.web.visitors import Role, may, visitor_of
from trackread.workflow.desk_pins import asked_in_words, set_at_desk, set_since
from trackread.workflow.desk_shot import kit_mouth, plain_shot, plain_voices, shot_at_desk
from trackread.workflow.desk_sound import sound_of
from trackread.workflow.material import Material
from trackread.workflow.pinning import brief_named

MODULES = ("shot*.js", "take-*.js", "keys.js", "live.js", "when.js")

readers = may(Role.EDITOR, Role.OFFICE)
editors = may(Role.EDITOR)


@editors
def shot_page(request: Request) -> Response:
    """One shot, with all that is said in it."""
    brief = brief_named(material_now(request), name_of(request))
    return page(request, "desk_shot.html", shot=brief.shot.name, scene=brief.scene, modules=scripts(*MODULES))


@readers
def shot(request: Request) -> Response:
    """A shot as it stands; with `character`, what that one says and wears."""
    character = request.query_params.get("character")
    one = shot_at_desk(request.app.state.book, material_now(request), name_of(request), character)
    told = plain_shot(one) if character is None else plain_voices(one)
    return answer(told, revision=one.revision)


@readers
def sound(request: Request) -> Response:
    """What is heard of the shot, as a wave file; `of` names a sound of it that was told before."""
    found, tag = sound_of(sheets_of(request), name_of(request), request.query_params.get("of", ""))
    return sound_answer(request, tag, len(found), lambda first, stop: (found[first:stop],))


@readers
def mouth(request: Request) -> Response:
    """What a mouth of a kit looks like."""
    asked = request.path_params
    found = kit_mouth(request.app.state.book, asked["kit"], asked["mouth"])
    return unless_known(request, found.tag, lambda: found.content, found.kind)


@editors
def set_mouths(request: Request) -> Response:
    """Sets mouths of a character by hand, or its kit, on the revision that was seen; answers what it wears then."""
    revision, asked = revision_asked(request), values_posted(request)
    if revision is None:
        return refused(request, 428, "say which revision you have seen: If-Match with the ETag of the shot")
    book, name, visitor = request.app.state.book, name_of(request), visitor_of(request)
    author = visitor.name if visitor else ""
    try:
        who = set_at_desk(book, material_now(request), name, asked, author=author, revision=revision)
    except ClashError as clash:
        return clashed(request, clash, asked, revision)
    one = shot_at_desk(book, material_now(request), name, who)
    told = {"kind": "mouths", "shot": one.brief.shot.name, "character": who, "by": author}
    request.app.state.live.tell("mouths", {**told, "revision": one.revision})
    return answer(plain_voices(one), revision=one.revision)


def clashed(request: Request, clash: ClashError, asked: Posted, revision: str) -> Response:
    """Both versions: what was asked for, and what others have set since, with the shot as it stands."""
    book, material, name = request.app.state.book, material_now(request), name_of(request)
    words = asked_in_words(book, material, name, asked)
    return refused(
        request,
        412,
        str(clash),
        yours={"asked": dict(asked), "words": words, "revision": revision},
        theirs=set_since(book, material, name, asked, revision=revision),
        **plain_voices(shot_at_desk(book, material, name)),
    )


def name_of(request: Request) -> str:
    return str(request.path_params["shot"])


def material_now(request: Request) -> Material:
    """What sheets are made from, as it is now."""
    return sheets_of(request).material.now().material


SHOT = "/api/shots/{shot:path}"  # a shot's code may have any signs in it
routes: list[BaseRoute] = [
    Route("/desk/shot/{shot:path}", shot_page),
    Route(f"{SHOT}/sound", sound),
    Route(f"{SHOT}/mouths", with_body(set_mouths), methods=["POST"]),
    Route(SHOT, shot),
    Route("/api/kits/{kit}/mouths/{mouth:path}", mouth),
]
