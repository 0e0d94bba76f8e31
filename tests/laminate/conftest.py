"""Laminates of the shipped materials, resolved."""

from collections.abc import Callable

import pytest

from stringerlab.laminate import Laminate, Ply, Stack, resolve
from stringerlab.materials import Book, shipped

Lay = Callable[..., Stack]


@pytest.fixture(scope="session")
def book() -> Book:
    return Book.of(shipped())


@pytest.fixture(scope="session")
def lay(book: Book) -> Lay:
    """Lay up: ``lay("csm450", ("ud300", 30), Ply(…))``."""

    def laid(*plies: str | tuple[str, float] | Ply, name: str = "test") -> Stack:
        made = [
            one if isinstance(one, Ply) else Ply(material=one) if isinstance(one, str)
            else Ply(material=one[0], angle=one[1])
            for one in plies
        ]  # fmt: skip
        return resolve(Laminate(id="l1", name=name, plies=tuple(made)), book)

    return laid
