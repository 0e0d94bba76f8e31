"""The list of constants no published value guards, and that the guard bites."""

import importlib
import re

import pytest

from stringerlab.assess.constants import Constant, constants, of_methods, uncovered
from stringerlab.assess.proof import proof_of


@pytest.fixture(scope="module")
def listed() -> tuple[Constant, ...]:
    return uncovered()


def _at(module: str, place: str, value: float) -> tuple[str, str, float]:
    return (f"stringerlab.methods.iso_12215_5_2008.{module}", place, value)


def test_each_number_of_k2_is_caught_when_one_per_cent_off(listed: tuple[Constant, ...]) -> None:
    every = {(c.module, c.place, c.value) for c, _ in constants()}
    loose = {(c.module, c.place, c.value) for c in listed}
    for number in (0.271, 0.910, 0.554, 0.313, 1.351):
        key = _at("panels", "k_2", number)
        assert key in every
        assert key not in loose


def test_every_number_is_caught_or_listed_with_its_line(listed: tuple[Constant, ...]) -> None:
    for constant in listed:
        path = importlib.import_module(constant.module).__file__
        assert path is not None
        with open(path, encoding="utf-8") as source:  # noqa: PTH123
            line = source.readlines()[constant.line - 1]
        written = re.findall(r"\d[\d_]*\.?\d*(?:e[+-]?\d+)?", line)
        assert constant.value in [float(number) for number in written]


def test_looking_for_gaps_leaves_every_constant_as_it_was() -> None:
    before = [proof_of(value) for value in of_methods()]
    for _, changed in constants():
        with changed():
            pass
    assert [proof_of(value) for value in of_methods()] == before
