"""A fitted set of regression trees as plain arrays, so that no pickle breaks with another library's next release.

Trees stand one after another, each in depth-first order: the left child of node i is node i + 1. A
leaf has feature -1 and keeps its value where other nodes keep their threshold.
"""

import functools
import json
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import IO

import numpy as np


@dataclass(frozen=True, slots=True)
class Forest:
    """Arrays over all nodes: `feature` int16, `split` float32, `right` int32; `roots` int32, one a tree.

    `facts` says what the trees were fitted on, for the score's remarks.
    """

    feature: np.ndarray
    split: np.ndarray
    right: np.ndarray
    roots: np.ndarray
    facts: dict[str, list[str]]

    def predict(self, rows: np.ndarray) -> np.ndarray:
        """The mean of the trees for each row, shape (n, columns) to (n,)."""
        node = np.tile(self.roots, len(rows))
        start = np.repeat(np.arange(len(rows)) * rows.shape[1], len(self.roots))
        flat = rows.ravel()
        going = np.flatnonzero(self.feature[node] >= 0)
        while len(going):
            here = node[going]
            lower = flat[start[going] + self.feature[here]] <= self.split[here]
            here = np.where(lower, here + 1, self.right[here])
            node[going] = here
            going = going[self.feature[here] >= 0]
        return np.asarray(self.split[node].reshape(len(rows), -1).mean(1), np.float32)

    def save(self, path: Path) -> None:
        facts = np.frombuffer(json.dumps(self.facts).encode(), np.uint8)
        np.savez_compressed(
            path, feature=self.feature, split=self.split, right=self.right, roots=self.roots, facts=facts
        )


def load(file: IO[bytes]) -> Forest:
    with np.load(file, allow_pickle=False) as arrays:
        facts = json.loads(arrays["facts"].tobytes())
        return Forest(arrays["feature"], arrays["split"], arrays["right"], arrays["roots"], facts)


@functools.cache
def shipped() -> Forest:
    """The trees that come with the package, loaded once a process."""
    with (files("trackread.reading") / "models" / "boundaries.npz").open("rb") as file:
        return load(file)
