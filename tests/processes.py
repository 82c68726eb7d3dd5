"""Processes that tests start and kill: those they have started themselves, and whether they end."""

import time

import psutil

PATIENCE = 60  # seconds; the machine may be busy


def waits_for(is_so):
    """Whether something is so within some seconds."""
    stop = time.monotonic() + PATIENCE
    while time.monotonic() < stop:
        if is_so():
            return True
        time.sleep(0.02)
    return False


def started_by(program):
    """All processes that a running program has started, and those that these have."""
    return psutil.Process(program.pid).children(recursive=True)


def all_end(processes):
    """Whether all of the processes end within some seconds."""
    return waits_for(lambda: not any(process.is_running() for process in processes))
