"""Counts with their nouns, as people say them."""


def counted(count: int, one: str, many: str = "") -> str:
    """A count with its noun, in the plural where there are several.

    >>> counted(1, "line"), counted(0, "line"), counted(2, "stretch", "stretches")
    ('1 line', '0 lines', '2 stretches')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"
