"""The keys of the desk as a production wants them otherwise: `desk-keys.toml` in its folder.

    play = "p"
    next-doubt = ["n", "Tab"]
    undo = "Ctrl+z"

Each action has a key or several, named as a browser names them (UI Events KeyboardEvent key Values), with Ctrl+, Alt+
and Shift+ before. The page lists its actions on `?`, and says which of those here it has not.
"""

import tomllib
from pathlib import Path

from trackread.errors import ProductionError

FILE = "desk-keys.toml"


def desk_keys(folder: Path) -> dict[str, list[str]]:
    """The keys of those actions that the production's file names, none if it has no file.

    Raises ProductionError with all that is wrong in it.
    """
    path = folder / FILE
    if not path.is_file():
        return {}
    try:
        told = tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise ProductionError(f"{path}: {error}") from error
    wrong = [
        f'{path}: {action}: give a key as text, as "p", or several in a list'
        for action in told
        if not keys_in(told[action])
    ]
    if wrong:
        raise ProductionError("\n".join(wrong))
    return {action: keys_in(value) for action, value in told.items()}


def keys_in(value: object) -> list[str]:
    """The keys that a value names, none if it is no key and no list of keys."""
    told = value if isinstance(value, list) else [value]
    keys = [key for key in told if isinstance(key, str) and key.strip()]
    return keys if len(keys) == len(told) else []
