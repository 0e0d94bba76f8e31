"""Published values, as ``stringerlab proof`` prints them."""

import pytest

from stringerlab.assess.proof import Published, proof_of, published


@pytest.mark.parametrize("value", published(), ids=lambda value: f"{value.source}: {value.quantity}")
def test_computed_value_meets_published_one(value: Published) -> None:
    proof = proof_of(value)
    assert proof.ok, (
        f"published {proof.published} ± {proof.tolerance} {proof.unit}, computed {proof.computed}"
    )


def test_every_published_value_has_a_name_of_its_own() -> None:
    names = [(value.source, value.quantity) for value in published()]
    assert sorted(names) == sorted(set(names))
