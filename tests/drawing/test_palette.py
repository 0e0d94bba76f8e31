"""The palette: kinds of ply apart in lightness and for every eye; words readable."""

from itertools import pairwise

import numpy as np
import pytest

from stringerlab.drawing import DARK, LIGHT, PRINT, THEMES, Area, Role, Shade, Theme
from stringerlab.drawing.palette import lightness, mixed

KINDS = (Role.MAT, Role.ROVING, Role.STITCHED, Role.UNIDIRECTIONAL)
EVERY = pytest.mark.parametrize("theme", [LIGHT, DARK, PRINT], ids=lambda theme: theme.name)
# Viénot, Brettel & Mollon 1999, in linear RGB (memory M): what an eye without red or green cones sees.
EYES = {
    "without red": np.array([[0.11238, 0.88762, 0], [0.11238, 0.88762, 0], [0.00401, -0.00401, 1]]),
    "without green": np.array([[0.29275, 0.70725, 0], [0.29275, 0.70725, 0], [-0.02234, 0.02234, 1]]),
}


def linear(colour: str) -> np.ndarray:
    parts = np.array([int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)])
    return np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)


def contrast(one: str, other: str) -> float:
    """WCAG contrast ratio."""
    luminance = sorted(float(linear(colour) @ [0.2126, 0.7152, 0.0722]) for colour in (one, other))
    return (luminance[1] + 0.05) / (luminance[0] + 0.05)


def lab(rgb: np.ndarray) -> np.ndarray:
    xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]) @ rgb
    f = np.cbrt(np.clip(xyz / [0.9505, 1.0, 1.089], 0.008856, None))
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


@EVERY
def test_kinds_of_ply_grow_darker_so_that_they_part_in_black_and_white(theme: Theme) -> None:
    steps = [lightness(theme.brush(role).colour) for role in KINDS]
    assert all(before - after >= 9 for before, after in pairwise(steps))


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
@pytest.mark.parametrize("eye", EYES)
def test_what_lies_side_by_side_parts_for_every_eye(theme: Theme, eye: str) -> None:
    roles = (*KINDS, Role.GEL_COAT, Role.BLOCK)
    seen = {role: lab(np.clip(EYES[eye] @ linear(theme.brush(role).colour), 0, 1)) for role in roles}
    for one in KINDS:
        for other in KINDS:
            if one is not other:
                assert np.linalg.norm(seen[one] - seen[other]) > 12
    tension, compression = (
        lab(np.clip(EYES[eye] @ linear(theme.brush(role).colour), 0, 1))
        for role in (Role.TENSION, Role.COMPRESSION)
    )
    assert np.linalg.norm(tension - compression) > 40


@EVERY
def test_words_stand_out_from_the_ground(theme: Theme) -> None:
    assert contrast(theme.ink, theme.background) > 7
    for role in (
        Role.TEXT, Role.DIMENSION, Role.AXIS, Role.CAVITY, Role.TENSION, Role.COMPRESSION, Role.SHEAR,
        Role.HOLDS, Role.TIGHT, Role.SHORT, Role.NOT_JUDGED, Role.CURVE, Role.WATER, Role.CHINE,
        Role.EQUIPMENT, Role.SUPPORT, Role.MOMENT_UP, Role.MOMENT_DOWN, Role.SHEAR_FORCE, Role.DEFLECTED,
        Role.REACTION, Role.PATCH,
    ):  # fmt: skip
        assert contrast(theme.pen(role).colour, theme.background) >= 3.9, role


@EVERY
def test_every_role_has_a_pen_and_a_brush(theme: Theme) -> None:
    for role in Role:
        assert theme.pen(role).width > 0
        assert theme.brush(role).colour.startswith("#")


@EVERY
def test_hull_ply_never_looks_like_the_section_s_own(theme: Theme) -> None:
    for kind in KINDS:
        assert theme.brush(Role.PLATING, kind).colour != theme.brush(kind).colour
        assert (
            theme.fill(Area(rings=(), role=Role.PLATING, tint=kind)).colour
            == theme.brush(Role.PLATING, kind).colour
        )


def test_shading_is_pale_at_zero_and_full_at_the_limit() -> None:
    stops = LIGHT.stops(Shade(z=(0, 10), values=(-2.0, 6.0), limit=6.0))
    assert [at for at, _ in stops] == pytest.approx([0, 0.25, 1])
    assert stops[1][1] == LIGHT.zero
    assert stops[2][1] == LIGHT.brush(Role.TENSION).colour
    assert stops[0][1] == mixed(LIGHT.zero, LIGHT.brush(Role.COMPRESSION).colour, 1 / 3)


def test_themes_go_by_name() -> None:
    assert list(THEMES) == ["light", "dark", "print"]
