"""Who asks: an editor, a unit, the office, or nobody; and what each of them may do."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps

from starlette.requests import Request
from starlette.responses import Response

from trackread.web.answers import refused
from trackread.workflow.keys import Role as Role


@dataclass(frozen=True, slots=True)
class Visitor:
    """Somebody who has signed in: `name` is who the key was given to, `unit` the unit's name, "" for others."""

    role: Role
    name: str
    unit: str = ""


def visitor_of(request: Request) -> Visitor | None:
    """Who asks, None for somebody who has not signed in."""
    found: Visitor | None = getattr(request.state, "visitor", None)
    return found


def may(*roles: Role) -> Callable[[Callable[[Request], Response]], Callable[[Request], Response]]:
    """Lets only these in; everybody else is told to sign in (401), or that it is not theirs (403)."""

    def held(endpoint: Callable[[Request], Response]) -> Callable[[Request], Response]:
        @wraps(endpoint)
        def asked(request: Request) -> Response:
            visitor = visitor_of(request)
            if visitor is None:
                return refused(request, 401, "sign in first")
            if visitor.role not in roles:
                return refused(request, 403, f"this is not for {visitor.role.value}s")
            return endpoint(request)

        return asked

    return held
