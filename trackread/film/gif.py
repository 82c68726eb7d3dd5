"""The check movie as an animated GIF, in greys and without sound, for where no movie can be put.

GIF89a counts the time of a picture in hundredths of a second. The edges of frames are rounded to them, not lengths, so
that no picture comes more than 5 ms early or late and nothing drifts.
"""

from io import BytesIO
from itertools import islice, pairwise

from PIL import Image

from trackread.core.timebase import resampled
from trackread.film.film import Film
from trackread.film.frames import frames_of
from trackread.film.places import HEIGHT, WIDTH

HUNDREDTHS = 100
# Browsers slow down what is shown for less than two hundredths (common practice, no source).
QUICKEST = 50
SMALLER = 2
GREYS = 32  # fewer pack better, and edges of letters stay smooth


def gif_of(film: Film) -> bytes:
    """A film as a GIF of half the movie's size that begins again at its end.

    Of a film with more than 50 frames a second every second one is shown. Raises FilmError for a film without voices
    or with more than eight, or a picture of a mouth that cannot be read.
    """
    every = step_of(film)
    pictures = map(_small, islice(frames_of(film), 0, None, every))
    target = BytesIO()
    next(pictures).save(
        target,
        "GIF",
        save_all=True,
        append_images=pictures,
        duration=[10 * hundredths for hundredths in delays_of(film)],
        loop=0,
    )
    return target.getvalue()


def step_of(film: Film) -> int:
    """1 if every frame is shown, 2 if every second one is."""
    return -(-film.rate.per_second // QUICKEST)


def delays_of(film: Film) -> tuple[int, ...]:
    """For how many hundredths of a second each picture is shown."""
    edges = [_edge(film, frame) for frame in (*range(0, film.length, step_of(film)), film.length)]
    return tuple(stop - start for start, stop in pairwise(edges))


def _edge(film: Film, frame: int) -> int:
    """The hundredth nearest to the start of a frame."""
    rate = film.rate.per_second
    return resampled(frame * rate.denominator, rate.numerator, HUNDREDTHS)


def _small(picture: Image.Image) -> Image.Image:
    """A picture in greys, black and white among them."""
    grey = picture.convert("L").resize((WIDTH // SMALLER, HEIGHT // SMALLER), Image.Resampling.BOX)
    return grey.point([tone * GREYS // 256 * 255 // (GREYS - 1) for tone in range(256)])
