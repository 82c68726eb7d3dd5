"""Where tasks run: processes of this machine, or a dask cluster; either way an Executor, and never too many at once."""

import os
import re
import threading
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, CancelledError, Executor, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing import get_context, parent_process
from multiprocessing.connection import wait as wait_for
from typing import TypeVar

from trackread.errors import BookError

T = TypeVar("T")
R = TypeVar("R")
AHEAD = 2  # tasks that wait for each worker: it never idles, and what waits takes little room
CONNECT = "10s"
ADDRESS = re.compile(
    r"(?:(?:tcp|tls|ucx|ws|wss)://)?(?:[^\s/:\[\]]+|\[[0-9a-fA-F:]+\]):[0-9]{1,5}"
)  # of a dask scheduler


@dataclass(frozen=True, slots=True)
class Workers:
    """An executor and how many tasks to give it at once; `losses` tell that a worker died, `mend` what helps."""

    executor: Executor
    at_once: int
    losses: tuple[type[Exception], ...] = (BrokenProcessPool,)
    mend: str = "with fewer --processes"

    def done(self, work: Callable[[T], R], tasks: Iterable[T]) -> Iterator[tuple[T, R]]:
        """Each task with what came of it, as they are done. Raises BookError if workers die."""
        waiting: dict[Future[R], T] = {}
        left = iter(tasks)
        try:
            while True:
                while len(waiting) < self.at_once and (task := next(left, None)) is not None:
                    waiting[self.executor.submit(work, task)] = task
                if not waiting:
                    return
                for future in wait(waiting, return_when=FIRST_COMPLETED).done:
                    yield waiting.pop(future), future.result()
        except self.losses as error:
            raise BookError(
                "a process that was working ended, perhaps for want of memory: what is done is kept; "
                f"do the same again, {self.mend}"
            ) from error
        finally:
            for future in waiting:
                future.cancel()


@contextmanager
def local_workers(processes: int | None = None) -> Iterator[Workers]:
    """Processes of this machine, one for each of its processors unless told otherwise."""
    count = processes or os.cpu_count() or 1
    # Not forked: the engines and the database must not be shared.
    with ProcessPoolExecutor(count, mp_context=get_context("spawn"), initializer=end_with_parent) as executor:
        yield Workers(executor, AHEAD * count)


def end_with_parent() -> None:
    """Sees to it that a worker ends when the program that started it is killed: nobody else would tell it."""
    parent = parent_process()
    if parent is not None:
        threading.Thread(target=exit_after, args=(parent.sentinel,), daemon=True).start()


def exit_after(sentinel: int) -> None:
    """Ends this process as soon as the one behind the sentinel has ended."""
    wait_for([sentinel])
    os._exit(1)


@contextmanager
def cluster_workers(address: str, *, patience: str = CONNECT) -> Iterator[Workers]:
    """The workers of a dask cluster, which must see the production's folder under the same path.

    Raises BookError if the cluster does not answer, or dask.distributed is not installed.
    """
    try:
        from distributed import Client
        from distributed.scheduler import KilledWorker
    except ImportError as error:
        raise BookError("a cluster wants dask.distributed: pip install 'trackread[cluster]'") from error
    if not ADDRESS.fullmatch(address):
        raise BookError(
            f"{address} is no address of a cluster: write it as tcp://HOST:PORT, as `dask scheduler` tells it"
        )
    try:
        client = Client(address, timeout=patience)
    except (OSError, TimeoutError, ValueError) as error:
        raise BookError(
            f"no cluster answers at {address}: start one with `dask scheduler`, or leave --cluster out"
        ) from error
    with client:
        workers = len(client.scheduler_info(n_workers=-1)["workers"])
        if not workers:
            raise BookError(f"the cluster at {address} has no workers: start some with `dask worker {address}`")
        # A scheduler that goes away takes all tasks back.
        losses = (KilledWorker, CancelledError)
        yield Workers(client.get_executor(pure=False), AHEAD * workers, losses, "once the cluster is well again")
