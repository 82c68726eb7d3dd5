"""Who speaks: the name in a cue, and what stands in parentheses behind it."""

import re

# What a page break adds to a speech that runs over it: no words of anyone.
CONTINUED = re.compile(r"(?:CONT(?:['’]?D|INUED|INUING|\.)?|MORE)", re.IGNORECASE)
PAGE_MARK = re.compile(rf"\(\s*{CONTINUED.pattern}\s*\)", re.IGNORECASE)
EXTENSION = re.compile(r"\(([^()]*)\)")
# The two that every script has, however their stops are written.
SPELT = {"vo": "V.O.", "os": "O.S."}


def cue_parts(cue: str) -> tuple[str, str]:
    """The name in a cue and its extension, CONT'D aside.

    >>> cue_parts("TUM (vo) (CONT'D)")
    ('TUM', 'V.O.')
    """
    name = one_row(cue.partition("(")[0])
    found = [one_row(extension) for extension in EXTENSION.findall(cue)]
    kept = [SPELT.get(one.replace(".", "").lower(), one) for one in found if one and not CONTINUED.fullmatch(one)]
    return name, ", ".join(kept)


def is_continued(cue: str) -> bool:
    """Whether a cue says that its character goes on speaking."""
    return any(CONTINUED.fullmatch(extension.strip()) for extension in EXTENSION.findall(cue))


def without_page_marks(text: str) -> str:
    """The words of a line as one row, the marks of page breaks left out."""
    return one_row(PAGE_MARK.sub(" ", text))


def one_row(text: str) -> str:
    return " ".join(text.split())
