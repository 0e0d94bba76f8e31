"""Pictures on the screen: the role's colour where it should be, marks and words of one size, paths kept."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QFont, QHelpEvent, QImage, QPainter, QPalette, QTransform
from PySide6.QtWidgets import QApplication, QToolTip

from stringerlab.assess import reference_plating
from stringerlab.data import folder
from stringerlab.desktop.legends import legend_size
from stringerlab.desktop.player import PictureView, Played, fitted, image, measure_in, paint, paint_legend
from stringerlab.drawing import (
    DARK,
    LIGHT,
    PRINT,
    Area,
    Label,
    Line,
    Mark,
    Options,
    Picture,
    Role,
    Shade,
    Shape,
    Theme,
    Ticks,
    legend,
    section_picture,
)
from stringerlab.files import load
from stringerlab.project import resolve

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.section import Plating, SectionShape

SIZE = QSize(400, 300)
ROUNDED = 2
"""A halo of the ground's own colour on the ground, and a font's first use, round to neighbouring levels."""
THEMES = pytest.mark.parametrize("theme", [LIGHT, DARK, PRINT], ids=lambda theme: theme.name)


def square(left: float, bottom: float, size: float) -> np.ndarray:
    return np.array([[0.0, 0], [1, 0], [1, 1], [0, 1]]) * size + np.array([left, bottom])


def font() -> QFont:
    made = QFont("DejaVu Sans")
    made.setPixelSize(13)
    return made


def played(picture: Picture, theme: Theme, scale: float = 10.0, ratio: float = 1.0) -> QImage:
    """A picture painted with mm (0, 0) at (100, 200), ``scale`` units a millimetre."""
    made = QImage(SIZE * ratio, QImage.Format.Format_ARGB32_Premultiplied)
    made.setDevicePixelRatio(ratio)
    made.fill(QColor(theme.background))
    painter = QPainter(made)
    painter.setFont(font())
    paint(painter, picture, QTransform(scale, 0, 0, -scale, 100, 200), theme)
    painter.end()
    return made


def colour(made: QImage, y: float, z: float, scale: float = 10.0) -> str:
    """Colour at a place in mm."""
    ratio = made.devicePixelRatio()
    at = QPointF(100 + scale * y, 200 - scale * z) * ratio
    return made.pixelColor(int(at.x()), int(at.y())).name()


def inked(made: QImage, theme: Theme) -> np.ndarray:
    """Rows and columns of pixels that are not ground."""
    memory = np.frombuffer(made.constBits(), np.uint32).reshape(made.height(), -1)
    return np.argwhere(memory != QColor(theme.background).rgba())


@THEMES
@pytest.mark.parametrize("role", [Role.MAT, Role.ROVING, Role.STITCHED, Role.UNIDIRECTIONAL, Role.GEL_COAT])
def test_an_area_has_its_role_s_colour(qapp: QApplication, theme: Theme, role: Role) -> None:
    made = played(Picture(items=(Area(rings=(square(0, 0, 10),), role=role),)), theme)
    assert colour(made, 5, 5) == theme.brush(role).colour
    assert colour(made, 12, 5) == theme.background


def test_what_is_drawn_later_lies_on_top_and_z_runs_up(qapp: QApplication) -> None:
    items = (Area(rings=(square(0, 0, 10),), role=Role.MAT), Area(rings=(square(0, 5, 5),), role=Role.ROVING))
    made = played(Picture(items=items), LIGHT)
    assert colour(made, 2, 8) == LIGHT.brush(Role.ROVING).colour
    assert colour(made, 2, 2) == LIGHT.brush(Role.MAT).colour


def test_a_hole_stays_open(qapp: QApplication) -> None:
    made = played(Picture(items=(Area(rings=(square(0, 0, 10), square(3, 3, 4)), role=Role.MAT),)), LIGHT)
    assert colour(made, 5, 5) == LIGHT.background
    assert colour(made, 1, 5) == LIGHT.brush(Role.MAT).colour


def test_a_hull_ply_is_not_the_colour_of_the_section_s_own(qapp: QApplication) -> None:
    made = played(Picture(items=(Area(rings=(square(0, 0, 10),), role=Role.PLATING, tint=Role.MAT),)), LIGHT)
    assert colour(made, 5, 5) == LIGHT.brush(Role.PLATING, Role.MAT).colour


def test_shading_runs_from_full_compression_over_pale_to_full_tension(qapp: QApplication) -> None:
    shade = Shade(z=(0, 10), values=(-4.0, 4.0), limit=4.0)
    made = played(Picture(items=(Area(rings=(square(0, 0, 10),), role=Role.MAT, shade=shade),)), LIGHT)

    def near(one: str, other: str) -> bool:
        pairs = [(int(one[i : i + 2], 16), int(other[i : i + 2], 16)) for i in (1, 3, 5)]
        return max(abs(a - b) for a, b in pairs) <= 6

    assert near(colour(made, 5, 9.95), LIGHT.brush(Role.TENSION).colour)
    assert near(colour(made, 5, 0.05), LIGHT.brush(Role.COMPRESSION).colour)
    assert near(colour(made, 5, 5), LIGHT.zero)


@pytest.mark.parametrize("scale", [1.0, 10.0, 40.0])
def test_a_line_is_as_wide_at_every_scale(qapp: QApplication, scale: float) -> None:
    line = Line(points=np.array([[-20.0, 0.0], [60.0, 0.0]]) / scale * 4, role=Role.TOOL)
    made = played(Picture(items=(line,)), LIGHT, scale)
    rows = np.unique(inked(made, LIGHT)[:, 0])
    assert 2 <= len(rows) <= 3
    assert rows.mean() == pytest.approx(199.5, abs=0.6)


@pytest.mark.parametrize("ratio", [1.0, 2.0])
def test_marks_and_words_keep_their_size_in_screen_units(qapp: QApplication, ratio: float) -> None:
    sizes = []
    for item in (Mark(at=(0, 0), shape=Shape.DIAMOND, role=Role.SHORT), Label(at=(0, 0), text="Hat")):
        spans = []
        for scale in (1.0, 30.0):
            found = inked(played(Picture(items=(item,)), PRINT, scale, ratio), PRINT)
            spans.append(np.ptp(found, axis=0) / ratio)
        assert spans[0] == pytest.approx(spans[1])
        sizes.append(spans[0])
    assert sizes[0] == pytest.approx([12, 12], abs=2.5)
    assert 15 < sizes[1][1] < 45


def test_screen_of_twice_the_pixels_shows_the_same_twice_as_fine(qapp: QApplication) -> None:
    picture = Picture(items=(Area(rings=(square(0, 0, 10),), role=Role.MAT),))
    coarse, fine = (inked(played(picture, LIGHT, ratio=ratio), LIGHT) for ratio in (1.0, 2.0))
    assert len(fine) == pytest.approx(4 * len(coarse), rel=0.03)


@pytest.mark.parametrize("align", [-1, 0, 1])
def test_words_stand_on_their_side_of_the_point(qapp: QApplication, align: int) -> None:
    made = played(Picture(items=(Label(at=(0, 0), text="wide words", align=align),)), PRINT)
    columns = inked(made, PRINT)[:, 1]
    if align == 0:
        assert (columns.min() + columns.max()) / 2 == pytest.approx(100, abs=3)
    else:
        assert ((columns - 100) * align > 0).all()


def test_ticks_of_fixed_size_point_where_they_should(qapp: QApplication) -> None:
    at = np.array([[0.0, 0.0]])
    up = Ticks(starts=at, ends=at + np.array([0.0, 1.0]), role=Role.MOULD_FACE, size=1.0)
    for scale in (1.0, 50.0):
        rows = inked(played(Picture(items=(up,)), PRINT, scale), PRINT)[:, 0]
        assert rows.max() <= 200
        assert np.ptp(rows) == pytest.approx(4.8, abs=1.5)


def test_the_painter_is_left_as_it_was(qapp: QApplication) -> None:
    made = QImage(SIZE, QImage.Format.Format_ARGB32_Premultiplied)
    painter = QPainter(made)
    painter.translate(7, 9)
    before = painter.transform(), painter.pen(), painter.brush(), painter.renderHints()
    paint(painter, Picture(items=(Label(at=(0, 0), text="x"),)), QTransform.fromScale(2, -2), LIGHT)
    assert (painter.transform(), painter.pen(), painter.brush(), painter.renderHints()) == before
    painter.end()


def test_a_painter_that_is_moved_moves_words_and_shapes_alike(qapp: QApplication) -> None:
    picture = Picture(
        items=(Area(rings=(square(0, 0, 2),), role=Role.MAT), Label(at=(4, 0), text="words", align=1))
    )
    found = []
    for shift in (0, 50):
        made = QImage(SIZE, QImage.Format.Format_ARGB32_Premultiplied)
        made.fill(QColor(LIGHT.background))
        painter = QPainter(made)
        painter.setFont(font())
        painter.translate(shift, 0)
        paint(painter, picture, QTransform(10, 0, 0, -10, 100, 200), LIGHT)
        painter.end()
        memory = np.frombuffer(made.constBits(), np.uint8).reshape(made.height(), made.width(), 4)
        found.append(memory.astype(int))
    still, shifted = found
    assert np.ptp(still[:, :-50]) > 100
    assert abs(shifted[:, 50:] - still[:, :-50]).max() <= ROUNDED


# -- a section -----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def hat() -> tuple[SectionShape, Plating | None]:
    project = load(folder("sample_projects") / "eelgrass_workboat.json")
    resolved = resolve(project)
    section = project.sections[0]
    return resolved.shapes[section.id], reference_plating(resolved, section)


def moved(shape: SectionShape, by: float, id: str = "w6") -> SectionShape:  # noqa: A002
    return replace(
        shape,
        walls=tuple(
            replace(wall, points=tuple((y + by, z) for y, z in wall.points)) if wall.id == id else wall
            for wall in shape.walls
        ),
    )


def test_only_the_wall_that_moved_is_made_anew(
    qapp: QApplication, hat: tuple[SectionShape, Plating | None]
) -> None:
    shape, plating = hat
    twin = moved(replace(shape, walls=(replace(shape.walls[0], id="w7"),)), 400.0, "w7").walls[0]
    both = replace(shape, walls=(*shape.walls, twin))
    before = Played(section_picture(both, plating))
    again = before.updated(section_picture(both, plating))
    after = before.updated(section_picture(moved(both, 5.0, "w7"), plating))
    plies = len(twin.stack.plies)
    assert before.made > 2 * plies
    assert again.made == 0
    assert after.made == plies + 1


def test_a_picture_updated_looks_as_one_made_anew(
    qapp: QApplication, hat: tuple[SectionShape, Plating | None]
) -> None:
    shape, plating = hat
    picture = section_picture(moved(shape, 3.0), plating)
    kept = Played(section_picture(shape, plating)).updated(picture)
    made = []
    for one in (kept, picture):
        page = QImage(SIZE, QImage.Format.Format_ARGB32_Premultiplied)
        page.fill(QColor(LIGHT.background))
        painter = QPainter(page)
        painter.setFont(font())
        paint(painter, one, QTransform(1.2, 0, 0, -1.2, 200, 220), LIGHT)
        painter.end()
        made.append(page)
    assert made[0] == made[1]


@THEMES
def test_every_ply_of_a_section_shows_its_colour_in_its_middle(
    qapp: QApplication, hat: tuple[SectionShape, Plating | None], theme: Theme
) -> None:
    """Across the crown, from the tool surface down: gel coat, mat, roving, mat, roving, mat."""
    shape, plating = hat
    picture = section_picture(shape, plating, options=Options(mould_face=False, ply_edges=False))
    scale, top = 40.0, 135.0
    page = QImage(QSize(200, 300), QImage.Format.Format_ARGB32_Premultiplied)
    page.fill(QColor(theme.background))
    painter = QPainter(page)
    paint(painter, picture, QTransform(scale, 0, 0, -scale, 100, 20 + scale * top), theme)
    painter.end()
    depth = 0.0
    for ply, role in zip(
        shape.walls[0].stack.plies,
        (Role.GEL_COAT, Role.MAT, Role.ROVING, Role.MAT, Role.ROVING, Role.MAT),
        strict=True,
    ):
        row = 20 + scale * (depth + ply.thickness / 2)
        assert page.pixelColor(100, int(row)).name() == theme.brush(role).colour
        depth += ply.thickness


def test_all_that_is_outlined_of_a_subject_is_one_path(qapp: QApplication) -> None:
    one = Area(rings=(square(0, 0, 10),), role=Role.MAT, subject="w1/1")
    kept = Played(
        Picture(items=(one, replace(one, rings=(square(20, 0, 10),)), replace(one, subject="w2/1")))
    )
    path = kept.path("w1/1")
    assert [path.contains(QPointF(y, 5)) for y in (5, 15, 25)] == [True, False, True]
    assert kept.path("w9").isEmpty()


# -- fitting, views, legends ---------------------------------------------------------------------


def test_fitted_picture_keeps_its_words_inside(qapp: QApplication) -> None:
    picture = Picture(
        items=(
            Line(points=np.array([[0.0, 0], [300, 40]]), role=Role.TOOL),
            Label(at=(300, 40), text="a label at the far end", align=1, level=1),
        )
    )
    made = image(picture, LIGHT, SIZE, font())
    found = inked(made, LIGHT)
    assert found.min() >= 10
    assert found[:, 0].max() <= 290
    assert found[:, 1].max() <= 390


def test_image_has_the_pixels_of_its_ratio(qapp: QApplication) -> None:
    made = image(Picture(), DARK, SIZE, font(), 2.0)
    assert (made.width(), made.height()) == (800, 600)
    assert made.pixelColor(3, 3).name() == DARK.background


@pytest.fixture
def view(qtbot: QtBot) -> PictureView:
    made = PictureView("The picture")
    qtbot.addWidget(made)
    made.resize(400, 300)
    made.setFont(font())
    items = (
        Area(rings=(square(0, 0, 100),), role=Role.MAT, subject="w1/1", tip="w1 ply 1: mat"),
        Line(points=np.array([[0.0, 50], [100, 50]]), role=Role.AXIS, subject="axis", tip="neutral axis"),
        Mark(at=(20, 80), shape=Shape.CIRCLE, role=Role.HOLDS, subject="m1", tip="web area 0.20 holds"),
    )
    made.show_picture(Picture(items=items))
    return made


def test_view_shows_what_is_under_the_pointer(qtbot: QtBot, view: PictureView) -> None:
    def at(y: float, z: float) -> str:
        item = view.item_at(view.to_screen.map(QPointF(y, z)))
        return "" if item is None else item.subject

    assert at(60, 20) == "w1/1"
    assert at(60, 50) == "axis"
    assert at(20, 80) == "m1"
    assert at(160, 50) == ""


def test_view_tells_its_words_to_those_who_cannot_see_it(qtbot: QtBot, view: PictureView) -> None:
    view.show_picture(Picture(items=(Label(at=(0, 0), text="Ex 8.7 GPa"), Label(at=(1, 1), text="a\nb"))))
    assert view.accessibleName() == "The picture"
    assert view.accessibleDescription() == "Ex 8.7 GPa; a b"


def test_resting_the_pointer_tells_what_it_is(qtbot: QtBot, view: PictureView) -> None:
    view.show()
    qtbot.waitExposed(view)
    place = view.to_screen.map(QPointF(60, 20)).toPoint()
    QApplication.sendEvent(view, QHelpEvent(QHelpEvent.Type.ToolTip, place, view.mapToGlobal(place)))
    assert QToolTip.text() == "w1 ply 1: mat"
    QApplication.sendEvent(
        view, QHelpEvent(QHelpEvent.Type.ToolTip, QPoint(1, 1), view.mapToGlobal(QPoint(1, 1)))
    )
    qtbot.waitUntil(lambda: not QToolTip.isVisible())


def test_view_fits_anew_when_it_grows(qtbot: QtBot, view: PictureView) -> None:
    view.show()
    qtbot.waitExposed(view)
    before = view.to_screen.m11()
    view.resize(800, 600)
    assert view.to_screen.m11() > 1.8 * before


def test_view_takes_the_theme_of_its_palette_unless_told(qtbot: QtBot, view: PictureView) -> None:
    dark = QPalette(QColor("#202020"))
    view.setPalette(dark)
    assert view.theme is DARK
    assert view.grab().toImage().pixelColor(2, 2).name() == DARK.background
    view.setPalette(QPalette(QColor("#f0f0f0")))
    assert view.theme is LIGHT
    view.set_theme(PRINT)
    assert view.grab().toImage().pixelColor(2, 2).name() == PRINT.background


def test_legend_stands_beside_the_picture_not_on_it(
    qtbot: QtBot, view: PictureView, hat: tuple[SectionShape, Plating | None]
) -> None:
    view.resize(900, 600)
    picture = section_picture(*hat)
    rows = legend(Options(), picture)
    view.show_picture(picture, rows)
    bounds = picture.bounds()
    assert bounds is not None
    left = view.to_screen.map(QPointF(bounds[0], 0)).x()
    assert left > legend_size(rows, view.font()).width()


def test_legend_paints_each_role_s_colour(
    qapp: QApplication, hat: tuple[SectionShape, Plating | None]
) -> None:
    rows = [row for row in legend(Options(), section_picture(*hat)) if row.role in (Role.MAT, Role.ROVING)]
    made = QImage(SIZE, QImage.Format.Format_ARGB32_Premultiplied)
    made.fill(QColor(LIGHT.background))
    painter = QPainter(made)
    painter.setFont(font())
    paint_legend(painter, tuple(rows), QPointF(0, 0), LIGHT)
    painter.end()
    column = {made.pixelColor(22, row).name() for row in range(60)}
    assert {LIGHT.brush(Role.MAT).colour, LIGHT.brush(Role.ROVING).colour} <= column
    assert legend_size((), font()).height() > 0


def test_fitted_transform_centres_the_picture(qapp: QApplication) -> None:
    picture = Picture(items=(Line(points=square(10, 20, 30), role=Role.TOOL, closed=True),))
    to_screen = fitted(picture, measure_in(font()), QRectF(0, 0, 400, 300))
    middle = to_screen.map(QPointF(25, 35))
    assert (middle.x(), middle.y()) == pytest.approx((200, 150))
    assert to_screen.m22() == -to_screen.m11()
