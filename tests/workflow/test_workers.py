"""Where tasks run: processes of this machine and dask's, and what is told when either of them dies."""

import os
import signal
import subprocess
import sys
import time

import pytest
from distributed import LocalCluster

from tests.processes import all_end, started_by
from tests.reels import Stopped, a_tram, brought, everything, workers_here
from trackread.errors import BookError
from trackread.workflow.workers import cluster_workers, local_workers

# Keeps two workers at work and says so.
BUSY = """
import time
from trackread.workflow.workers import local_workers
with local_workers(2) as workers:
    for task, _ in workers.done(time.sleep, [0, 0, 600, 600]):
        print(task, flush=True)
"""


@pytest.fixture(scope="module")
def cluster():
    """A dask cluster of two processes."""
    with LocalCluster(n_workers=2, processes=True, threads_per_worker=1, dashboard_address=":0") as cluster:
        yield cluster.scheduler_address


def test_each_task_comes_with_what_came_of_it():
    with local_workers(2) as workers:
        done = dict(workers.done(abs, range(-20, 0)))

    assert done == {number: -number for number in range(-20, 0)}


def test_no_more_tasks_are_drawn_than_the_workers_are_about_to_do():
    drawn = []
    workers = workers_here()
    done = workers.done(abs, (drawn.append(number) or number for number in range(100)))

    assert [next(done) for _ in range(3)] == [(0, 0), (1, 1), (2, 2)]
    assert drawn == [0, 1, 2]


def test_what_ends_the_work_ends_it_at_once():
    with pytest.raises(Stopped):
        list(workers_here(most=2).done(abs, range(5)))


def test_a_worker_that_dies_is_told_with_what_to_do():
    with local_workers(1) as workers, pytest.raises(BookError, match="what is done is kept; do the same again"):
        list(workers.done(os._exit, [3, 3, 3]))


def test_workers_end_when_the_program_that_started_them_is_killed():
    with subprocess.Popen([sys.executable, "-c", BUSY], stdout=subprocess.PIPE, text=True) as program:
        told = [program.stdout.readline(), program.stdout.readline()]
        started = started_by(program)
        program.kill()

    assert told == ["0\n", "0\n"]
    assert program.returncode == -signal.SIGKILL
    assert len(started) >= 2
    assert all_end(started)


def test_a_clusters_workers_make_the_same_book(cluster, tmp_path, reel, tram_book):
    with a_tram(tmp_path / "other") as book, cluster_workers(cluster) as workers:
        brought(book, reel, workers)

        assert everything(book) == everything(tram_book)


def test_a_cluster_whose_workers_die_is_told_with_what_to_do(cluster):
    with cluster_workers(cluster) as workers, pytest.raises(BookError, match="do the same again, once the cluster is"):
        list(workers.done(os._exit, [3]))


def test_a_scheduler_that_goes_away_is_told_with_what_to_do():
    with (
        LocalCluster(n_workers=1, processes=True, threads_per_worker=1, dashboard_address=":0") as cluster,
        cluster_workers(cluster.scheduler_address) as workers,
    ):
        done = workers.done(time.sleep, [0, 600])
        next(done)
        cluster.close()

        with pytest.raises(BookError, match="do the same again, once the cluster is"):
            next(done)


def test_a_cluster_that_does_not_answer_is_told():
    with (
        pytest.raises(BookError, match=r"no cluster answers at tcp://127\.0\.0\.1:1: start one"),
        cluster_workers("tcp://127.0.0.1:1", patience="1s"),
    ):
        pass


@pytest.mark.parametrize("address", ["nowhere", "tcp://", "tcp://127.0.0.1:x", "ftp://127.0.0.1:1"])
def test_an_address_that_is_none_is_told(address):
    with (
        pytest.raises(BookError, match=r"is no address of a cluster: write it as tcp://HOST:PORT"),
        cluster_workers(address),
    ):
        pass


def test_a_cluster_without_workers_is_told():
    with (
        LocalCluster(n_workers=0, processes=True, dashboard_address=":0") as cluster,
        pytest.raises(BookError, match="has no workers: start some with `dask worker"),
        cluster_workers(cluster.scheduler_address),
    ):
        pass
