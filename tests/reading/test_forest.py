"""The trees as arrays say what the library they were fitted with says."""

from pathlib import Path

import numpy as np
import pytest
from sklearn.ensemble import ExtraTreesRegressor

from tests.scripts.loading import script
from trackread.reading.forest import Forest, load, shipped


@pytest.fixture(scope="module")
def fitted() -> tuple[ExtraTreesRegressor, np.ndarray]:
    rows = np.random.default_rng(0).normal(size=(400, 7)).astype(np.float32)
    wanted = np.sin(rows[:, 0]) + rows[:, 1] * rows[:, 2]
    return ExtraTreesRegressor(9, min_samples_leaf=3, random_state=0).fit(rows, wanted), rows


def test_arrays_predict_what_the_fitted_model_predicts(fitted: tuple[ExtraTreesRegressor, np.ndarray]) -> None:
    model, rows = fitted

    forest = script("fit-boundaries").as_arrays(model, ["ours"])

    assert np.allclose(forest.predict(rows), model.predict(rows), atol=1e-5)


def test_a_saved_forest_comes_back_the_same(tmp_path: Path, fitted: tuple[ExtraTreesRegressor, np.ndarray]) -> None:
    model, rows = fitted
    forest = script("fit-boundaries").as_arrays(model, ["ours"])
    forest.save(tmp_path / "trees.npz")

    with (tmp_path / "trees.npz").open("rb") as file:
        again = load(file)

    assert again.facts == {"sets": ["ours"]}
    assert np.array_equal(again.predict(rows), forest.predict(rows))


def test_a_tree_of_one_leaf_says_its_value() -> None:
    leaf = Forest(np.array([-1], np.int16), np.array([0.25], np.float32), np.array([0]), np.array([0]), {})

    assert leaf.predict(np.zeros((3, 2), np.float32)).tolist() == [0.25, 0.25, 0.25]


def test_the_shipped_trees_say_what_they_were_fitted_on() -> None:
    assert "ae" in shipped().facts["sets"]
