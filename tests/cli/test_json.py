"""What the lists of the book give as JSON is told in the README, name by name."""

from pathlib import Path

import pytest

README = (Path(__file__).resolve().parent.parent.parent / "README.md").read_text(encoding="utf-8")
LISTS = {
    "script lines": [],
    "script drafts": [],
    "script changes": ["--from", 1, "--to", 1],
    "takes": [],
    "status": [],
    "conform": ["L0001", "--frame", 2],
    "correct show": ["L0001-3"],
    "correct log": ["L0001-3"],
}


def names_in(value):
    """Every name of an object in some JSON."""
    if isinstance(value, dict):
        return {*value, *(name for part in value.values() for name in names_in(part))}
    return {name for part in value for name in names_in(part)} if isinstance(value, list) else set()


@pytest.mark.parametrize(("name", "more"), LISTS.items(), ids=LISTS)
def test_every_name_in_the_json_of_a_list_is_told_in_its_row_of_the_readme(tram, tram_json, name, more):
    tram("correct", "note", "L0001-3", 3, "look left")
    row = next(row for row in README.splitlines() if row.startswith(f"| `{name}` | `{{"))
    # The lines of a change are as `script lines` has them.
    lines = next(row for row in README.splitlines() if row.startswith("| `script lines` | `{"))
    told = row + lines * (name == "script changes")
    found = names_in(tram_json(*name.split(), *more))

    assert len(found) > 3
    assert sorted(one for one in found if f'"{one}"' not in told) == []
