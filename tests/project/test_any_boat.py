"""A file of the right shape is never too wrong to be told so: problems are listed, nothing raises."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.files import loads
from stringerlab.project import resolve

KEPT = Path(__file__).parents[1] / "files" / "versions" / "version_1.json"
BARE: dict[str, Any] = json.loads(KEPT.read_bytes())
NUMBERS = [0, -1, 1e300, -1e300, 1e-9, 0.001, 0.3, 45, 90, 1e7]
WORDS = ["", "l1", "w5", "m9", "csm450", "pvc80", "gelcoat", "nothing"]


def spoilings(tree: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], Any]]:
    """Paths in a bare project, each with a value of its own sort to put there."""
    if isinstance(tree, dict):
        for key, part in tree.items():
            yield from spoilings(part, (*path, key))
    elif isinstance(tree, list):
        yield path, []
        for i, part in enumerate(tree):
            yield from spoilings(part, (*path, i))
    elif not isinstance(tree, bool):
        yield from ((path, value) for value in (WORDS if isinstance(tree, str) else NUMBERS))


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(list(spoilings(BARE["project"]))), max_size=3))
def test_spoiled_boat_is_judged_as_far_as_it_is_sound(changes: list[tuple[tuple[Any, ...], Any]]):
    spoiled = json.loads(KEPT.read_bytes())
    for path, value in changes:
        here = spoiled["project"]
        try:
            for step in path[:-1]:
                here = here[step]
            here[path[-1]] = value
        except (IndexError, TypeError):
            assume(False)
    try:
        boat = loads(json.dumps(spoiled).encode())
    except StringerlabError:
        assume(False)
        return
    resolved = resolve(boat)
    judged = [case.panel.id for case in resolved.panels] + [case.span.id for case in resolved.spans]
    declared = [subject.id for subject in (*boat.panels, *boat.spans)]
    assert set(judged) | set(resolved.blocked) == set(declared)
    assert not set(judged) & set(resolved.blocked)
    blocking = {problem for found in resolved.blocked.values() for problem in found}
    assert blocking <= set(resolved.problems)
    assert all(problem.what and problem.where and problem.remedy for problem in resolved.problems)
    if resolved.problems == ():
        assert not resolved.blocked
