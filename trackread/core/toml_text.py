"""TOML that people write: texts as it has them, and what is wrong with it, told with its line."""

import json


def quoted(text: str) -> str:
    """A basic string of TOML 1.0: JSON's, but that the character DEL is escaped as well."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def syntax_problem(name: str, message: str) -> str:
    """What tomllib says is wrong in a file called `name`, as `name:3: what`.

    tomllib ends its message with `(at line 3, column 7)` or `(at end of document)`.
    """
    words, _, place = message.rpartition(" (at ")
    line = place.removeprefix("line ").partition(",")[0]
    return f"{name}:{line}: {words}" if line.isdigit() else f"{name}: {words} at its end"
