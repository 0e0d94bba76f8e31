"""The lines of a material, changed one at a time."""

from collections.abc import Callable

import pytest

from stringerlab.desktop.models.material_values import lines_of, with_known, with_number, with_source
from stringerlab.materials import AnyMaterial, shipped
from stringerlab.materials.records import Reinforcement
from stringerlab.workings import Known

CHANGES: dict[str, Callable[[AnyMaterial], AnyMaterial]] = {
    "the same number": lambda m: with_number(m, lines_of(m)[-1], lines_of(m)[-1].number),
    "the same source": lambda m: with_source(m, lines_of(m)[0], lines_of(m)[0].source),
}


@pytest.mark.parametrize("change", CHANGES)
def test_what_is_typed_again_changes_nothing(change: str) -> None:
    core = shipped().adhesives[0]
    assert CHANGES[change](core) == core


def test_a_shared_mark_is_the_records_own() -> None:
    mat = shipped().reinforcements[0]
    [weight] = [line for line in lines_of(mat) if line.path == ("weight",)]
    marked = with_known(mat, weight, Known.TESTED)
    assert isinstance(marked, Reinforcement)
    assert (marked.known, marked.weight) == (Known.TESTED, mat.weight)
