"""How long a section of 60 walls × 12 plies takes from shape to painted page, and with one wall moved."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

pytest.importorskip("PySide6.QtWidgets", reason="the window needs PySide6")

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QColor, QImage, QPainter

from stringerlab.desktop.player import Played, fitted, measure_in, paint
from stringerlab.drawing import LIGHT, Picture, section_picture
from stringerlab.laminate import PlyNumbers, Role, Stack
from stringerlab.materials.records import PlyKind
from stringerlab.section import SectionShape, Side, WallShape

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication
    from pytest_benchmark.fixture import BenchmarkFixture

WALLS, PLIES = 60, 12
SIZE = QSize(1280, 800)
PICTURE, UPDATE, PAINT = 6e-3, 2e-3, 12e-3
"""Seconds, the best of many, since a machine may be shared; painting all of it is a frame at its worst."""


def laminate() -> Stack:
    kinds = (PlyKind.MAT, PlyKind.WOVEN_ROVING)
    return Stack(
        name="laminate",
        plies=tuple(
            PlyNumbers(
                name="ply",
                role=Role.REINFORCED,
                kind=kinds[number % 2],
                angle=0.0,
                thickness=0.3,
                mass=450,
                dry_weight=150,
                glass=0.3,
                E1=6000.0,
                E2=6000.0,
                G12=2500.0,
                nu12=0.3,
                tension_1=90.0,
                compression_1=120.0,
                tension_2=90.0,
                compression_2=120.0,
                shear=60.0,
                flexural=150.0,
                interlaminar=15.0,
                marks=(),
            )
            for number in range(PLIES)
        ),
    )


def comb(shift: float) -> SectionShape:
    """Sixty small zeds in a row; the eighth leans by a shift."""
    stack = laminate()
    walls = tuple(
        WallShape(
            id=f"w{number}",
            points=((y, 4), (y + 10, 4), (y + 12 + (shift if number == 7 else 0), 60), (y + 30, 60)),
            fillets=(0, 3, 4, 0),
            side=Side.RIGHT,
            closed=False,
            stack=stack,
        )
        for number, y in enumerate(range(-1200, -1200 + 40 * WALLS, 40))
    )
    return SectionShape(name="comb", walls=walls)


def best(benchmark: Any) -> float:
    """Least time of a run [s]; 0 where nothing was timed."""
    return float(benchmark.stats.stats.min) if benchmark.enabled else 0.0


@pytest.fixture(scope="module")
def picture() -> Picture:
    return section_picture(comb(0.0), None)


def test_picture_of_720_plies_with_one_wall_moved(benchmark: BenchmarkFixture) -> None:
    shapes = iter(comb(0.001 * step) for step in range(1_000_000))
    made = benchmark.pedantic(
        lambda shape: section_picture(shape, None),
        setup=lambda: ((next(shapes),), {}),
        rounds=60 if benchmark.enabled else 1,
    )
    assert sum(1 for item in made if "/" in item.subject) == WALLS * PLIES
    assert best(benchmark) < PICTURE


def test_paths_of_720_plies_with_one_wall_moved(
    benchmark: BenchmarkFixture, qapp: QApplication, picture: Picture
) -> None:
    before, after = Played(picture), section_picture(comb(1.0), None)
    made = benchmark(before.updated, after)
    assert made.made == PLIES + 1
    assert best(benchmark) < UPDATE


def test_painting_720_plies(benchmark: BenchmarkFixture, qapp: QApplication, picture: Picture) -> None:
    played = Played(picture)
    page = QImage(SIZE, QImage.Format.Format_ARGB32_Premultiplied)
    to_screen = fitted(picture, measure_in(qapp.font()), QRectF(10, 10, 1260, 780))

    def frame() -> None:
        painter = QPainter(page)
        painter.fillRect(page.rect(), QColor(LIGHT.background))
        paint(painter, played, to_screen, LIGHT)
        painter.end()

    benchmark(frame)
    assert page.pixelColor(2, 2).name() == LIGHT.background
    assert best(benchmark) < PAINT
