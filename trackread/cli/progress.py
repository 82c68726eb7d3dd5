"""A progress bar for what takes longer than a second, on the terminal's error stream and nowhere else."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Timer

PATIENCE = 1.0  # seconds; a bar that is gone at once only flickers


@contextmanager
def progress_bar(doing: str) -> Iterator[Callable[[float], None]]:
    """Gives what is to be told the share that is done, 0 to 1; silent where no terminal is."""
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    from rich.console import Console
    from rich.progress import Progress

    bar = Progress(console=Console(stderr=True), transient=True)
    task = bar.add_task(doing, total=1.0)
    begin = Timer(PATIENCE, bar.start)
    begin.start()
    try:
        yield lambda share: bar.update(task, completed=share)
    finally:
        begin.cancel()
        begin.join()
        bar.stop()
