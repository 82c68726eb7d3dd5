"""How numbers of frames, and speeds, are written for people."""

from fractions import Fraction


def decimal(number: Fraction | int) -> str:
    """A number with up to two digits behind the point, the nearest, half up.

    >>> decimal(Fraction(199, 4))
    '49.75'
    """
    hundredths = (200 * number.numerator + number.denominator) // (2 * number.denominator)
    whole, part = divmod(abs(hundredths), 100)
    return f"{'-' * (hundredths < 0)}{whole}.{part:02}".rstrip("0").rstrip(".")


def counted(number: Fraction | int) -> str:
    """So many frames, whichever way.

    >>> counted(Fraction(-1))
    '1 frame'
    """
    told = decimal(number if number > 0 else -number)
    return f"{told} frame{'s' * (told != '1')}"
