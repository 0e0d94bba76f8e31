"""Walls over their thickness against exact ply polygons at other thicknesses."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.laminate import Moduli
from stringerlab.project import resolve
from stringerlab.section import facts, ply_polygons, properties
from stringerlab.section.records import SectionShape
from stringerlab.sizing.scatter.forms import section_form
from stringerlab.sizing.scatter.sizes import thicker
from stringerlab.sizing.scatter.walls import wall_forms

_SAMPLES = ("first_hat_lesson", "bladderwrack_parent", "tidewrack_layout", "eelgrass_workboat")


def _sections() -> list[tuple[str, SectionShape, float]]:
    found: list[tuple[str, SectionShape, float]] = []
    for name in _SAMPLES:
        for case in resolve(load(folder("sample_projects") / f"{name}.json")).spans:
            key = f"{name}: {case.section.name}"
            if key not in {known for known, _, _ in found}:
                found.append((key, case.section, case.drawn_deadrise))
    return found


_SECTIONS = _sections()


@pytest.mark.parametrize("part", [0.8, 1.0, 1.07, 1.3])
@pytest.mark.parametrize(("name", "shape", "deadrise"), _SECTIONS, ids=[one[0] for one in _SECTIONS])
def test_a_walls_plies_have_the_area_and_moments_of_their_polygons(
    name: str, shape: SectionShape, deadrise: float, part: float
) -> None:
    for place, form in enumerate(wall_forms(shape, deadrise)):
        alone = SectionShape(
            name=name, walls=(thicker(replace(shape, fills=()), [part] * len(shape.walls)).walls[place],)
        )
        levels = np.concatenate([[0.0], np.cumsum([ply.thickness for ply in alone.walls[0].stack.plies])])
        area, first, second = (each[0] for each in form.moments(levels[None]))
        low, high = (each[0] for each in form.heights(levels[None]))
        polygons = ply_polygons(alone)
        for ply in range(len(levels) - 1):
            (ring,) = polygons.rings(ply)
            y, z = ring.T
            cross = y * np.roll(z, -1) - np.roll(y, -1) * z
            z2 = np.roll(z, -1)
            sign = np.sign(cross.sum())
            assert area[ply] == pytest.approx(sign * cross.sum() / 2, rel=1e-9)
            assert first[ply] == pytest.approx(sign * (cross * (z + z2)).sum() / 6, rel=1e-8, abs=1e-4)
            assert second[ply] == pytest.approx(
                sign * (cross * (z * z + z * z2 + z2 * z2)).sum() / 12, rel=1e-8, abs=1e-3
            )
            assert (low[ply], high[ply]) == pytest.approx((z.min(), z.max()), abs=1e-9)


def test_a_laminate_folds_where_the_program_says_it_does() -> None:
    _, shape, deadrise = _SECTIONS[0]
    (form,) = wall_forms(shape, deadrise)
    assert np.isfinite(form.folds)
    for part, folds in ((0.999, False), (1.001, True)):
        grown = thicker(shape, [form.folds / form.thick * part])
        refused = False
        try:
            ply_polygons(grown)
        except StringerlabError as error:
            refused = "folds" in str(error)
        assert refused is folds


@pytest.mark.parametrize(("name", "shape", "deadrise"), _SECTIONS, ids=[one[0] for one in _SECTIONS])
def test_sizes_follow_the_thickness_of_the_laminates(name: str, shape: SectionShape, deadrise: float) -> None:
    form = section_form(shape, deadrise)
    assert form.error < 1e-9, name
    for part in (0.97, 1.0, 1.025):
        exact = facts(thicker(shape, [part] * len(shape.walls)), deadrise)
        ours = form.sizes.at([np.array([part])] * len(shape.walls))
        for found, true in zip(ours, (exact.web_area, exact.crown_width, exact.crown_thickness), strict=True):
            assert found[0] == pytest.approx(true, rel=1e-9, nan_ok=True)


def test_a_section_without_scatter_is_worth_what_it_is() -> None:
    _, shape, deadrise = _SECTIONS[0]
    exact = properties(shape, None, Moduli.PLAIN)
    (form,) = wall_forms(shape, deadrise)
    stack = shape.walls[0].stack
    levels = np.concatenate([[0.0], np.cumsum([ply.thickness for ply in stack.plies])])
    area, _, _ = form.moments(levels[None])
    assert area.sum() == pytest.approx(exact.area, rel=1e-12)
