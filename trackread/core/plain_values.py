"""Values out of plain groups of them, as JSON holds these: each is of its kind, or an error says which is not.

Each function raises KeyError for what is missing and TypeError for what is of another kind.
"""

from collections.abc import Mapping


def group(plain: Mapping[str, object], name: str) -> Mapping[str, object]:
    found = plain[name]
    if not isinstance(found, Mapping):
        raise TypeError(f"{name} is a group of values, not {found!r:.100}")
    return found


def some(plain: Mapping[str, object], name: str) -> list[object]:
    found = plain[name]
    if not isinstance(found, list):
        raise TypeError(f"{name} are a list, not {found!r:.100}")
    return found


def text(plain: Mapping[str, object], name: str) -> str:
    found = plain[name]
    if not isinstance(found, str):
        raise TypeError(f"{name} is a text, not {found!r:.100}")
    return found


def whole(plain: Mapping[str, object], name: str) -> int:
    found = plain[name]
    if not isinstance(found, int) or isinstance(found, bool):
        raise TypeError(f"{name} is a whole number, not {found!r:.100}")
    return found


def share(plain: Mapping[str, object], name: str) -> float:
    found = plain[name]
    if not isinstance(found, (int, float)) or isinstance(found, bool):
        raise TypeError(f"{name} is a number, not {found!r:.100}")
    return found


def texts(plain: Mapping[str, object], name: str) -> list[str]:
    found = some(plain, name)
    if not all(isinstance(one, str) for one in found):
        raise TypeError(f"{name} are texts, not {found!r:.100}")
    return [str(one) for one in found]
