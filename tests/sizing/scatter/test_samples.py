"""Samples against the same boats really made of them: every sample project, by several methods."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.assess.check import check
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.laminate import Laminate, Ply, Stack, resolve
from stringerlab.materials.records import Reinforcement
from stringerlab.methods import FindingKind, available, method_named
from stringerlab.methods.records import Aspect
from stringerlab.project import Project
from stringerlab.project.problems import book_of
from stringerlab.project.wishes import Law, Scatter, Scattered, ScatterPlan
from stringerlab.sizing.scatter.held import really
from stringerlab.sizing.scatter.model import Key, Model, made_ready

_PROJECTS = (
    "first_hat_lesson",
    "bladderwrack_parent",
    "eelgrass_workboat",
    "tidewrack_plain",
    "tidewrack_grid",
    "tidewrack_layout",
)


def _loaded(name: str) -> Project:
    return load(folder("sample_projects") / f"{name}.json")


def _checked(project: Project, method: str, *, mechanics: bool = False) -> dict[Key, float]:
    results = check(project, method) if mechanics else check(project, method, topics=())
    return {
        (one.subject, one.aspect): one.utilisation
        for one in results.findings
        if one.utilisation is not None
        and (
            one.kind is FindingKind.RULE or (one.kind is FindingKind.MECHANICS and one.aspect is Aspect.BOND)
        )
    }


@pytest.mark.parametrize("method", available())
@pytest.mark.parametrize("name", _PROJECTS)
def test_without_scatter_every_finding_is_that_of_a_check(name: str, method: str) -> None:
    project = _loaded(name)
    model = made_ready(project, ScatterPlan(), method_named(method))
    found = {key: float(use[0]) for key, use in model.judged({}, 1) if np.isfinite(use[0])}
    known = _checked(project, method, mechanics=name in ("bladderwrack_parent", "tidewrack_plain"))
    of_rules = {key: use for key, use in found.items() if key[1] is not Aspect.BOND}
    assert set(of_rules) == {key for key in known if key[1] is not Aspect.BOND}
    for key in found.keys() & known.keys():
        assert found[key] == pytest.approx(known[key], rel=1e-10), key


@pytest.mark.parametrize("method", ["iso_12215_5_2008", "first_principles", "class_guide_planing"])
@pytest.mark.parametrize("name", _PROJECTS)
def test_samples_are_as_the_boat_made_of_them(name: str, method: str) -> None:
    model = made_ready(_loaded(name), ScatterPlan(usual="usual hand lay-up"), method_named(method))
    many = 3 if name.startswith("tidewrack") else 6  # the large boats have hundreds of findings a sample
    places = np.random.default_rng(5).random((many, len(model.moving)))
    by = model.factors_at(places)
    ours = dict(model.judged(by, many))
    held = 0
    for sample in range(many):
        theirs, _ = really(model, by, sample)
        for key, use in theirs.items():
            if np.isfinite(use):
                held += 1
                assert ours[key][sample] == pytest.approx(use, rel=1e-4, abs=1e-5), (key, sample)
    ids = {one.case.panel.id for one in model.panels}
    of_panels = [key for key, use in model.judged({}, 1) if key[0] in ids and np.isfinite(use[0])]
    assert held >= many * len(of_panels)


def _laid(project: Project, thickness: float, glass: float, speed: float) -> Project:
    """Return a boat whose every fabric is laid so many times as thick, at so many times its glass content."""
    book = book_of(project)
    own: dict[str, Reinforcement] = {}

    def laid(ply: Ply) -> Ply:
        material = book.reinforcement(ply.material)
        if material is None:
            return ply
        assert not material.layers
        own[material.id] = replace(material, id=f"{material.id}-laid", glass=material.glass * glass)
        return replace(ply, material=f"{material.id}-laid")

    changed = replace(
        project,
        craft=replace(project.craft, speed=project.craft.speed * speed),
        laminates=tuple(replace(one, plies=tuple(map(laid, one.plies))) for one in project.laminates),
    )
    changed = replace(
        changed,
        materials=replace(
            changed.materials, reinforcements=(*changed.materials.reinforcements, *own.values())
        ),
    )
    measured = {one.id: stack for one, stack in _stacks(changed)}
    return replace(
        changed,
        laminates=tuple(
            replace(
                one,
                plies=tuple(
                    replace(ply, thickness=measured[one.id].plies[i].thickness * thickness)
                    if ply.material.endswith("-laid")
                    else ply
                    for i, ply in enumerate(one.plies)
                ),
            )
            for one in changed.laminates
        ),
    )


def _stacks(project: Project) -> list[tuple[Laminate, Stack]]:
    book = book_of(project)
    return [(one, resolve(one, book)) for one in project.laminates]


@pytest.mark.parametrize(
    ("name", "thickness", "glass", "speed"),
    [
        ("bladderwrack_parent", 0.93, 1.06, 1.04),
        ("bladderwrack_parent", 1.05, 0.94, 0.97),
        ("bladderwrack_parent", 0.9, 1.0, 1.0),
        # thicker, the flange of the lesson's hat would be cut by the shell: the sample stands higher instead
        ("first_hat_lesson", 0.93, 1.06, 1.04),
        ("first_hat_lesson", 0.9, 1.0, 1.0),
    ],
)
def test_a_project_edited_to_be_the_sample_checks_alike(
    name: str, thickness: float, glass: float, speed: float
) -> None:
    project = _loaded(name)
    plan = ScatterPlan(
        inputs=(
            Scatter(id="s1", what=Scattered.THICKNESS, law=Law.UNIFORM, spread=0.2),
            Scatter(id="s2", what=Scattered.GLASS, law=Law.UNIFORM, spread=0.2),
            Scatter(id="s3", what=Scattered.SPEED, law=Law.UNIFORM, spread=0.2),
        )
    )
    model: Model = made_ready(project, plan, method_named(project.method))
    given = {Scattered.THICKNESS: thickness, Scattered.GLASS: glass, Scattered.SPEED: speed}
    by = {(one.what, one.of): np.full(1, given[one.what]) for one in model.inputs}
    ours = {key: float(use[0]) for key, use in model.judged(by, 1)}
    theirs = _checked(_laid(project, thickness, glass, speed), project.method)
    held = 0
    for key, use in theirs.items():
        held += 1
        assert ours[key] == pytest.approx(use, rel=1e-6), key
    assert held > 8


def test_a_thicker_laminate_stands_higher_rather_than_in_the_shell() -> None:
    project = _loaded("first_hat_lesson")
    model = made_ready(project, ScatterPlan(), method_named(project.method))
    by = {
        (Scattered.THICKNESS, laminate): np.array([0.95, 1.0, 1.1])
        for laminate in ("l1", "l2", *(one.id for one in project.laminates))
    }
    batch = model.batch(by, 3)
    (span,) = model.spans
    lift = batch.stands(span).lift
    thick = sum(ply.thickness for ply in span.form.shape.walls[0].stack.plies)
    assert lift[:2] == pytest.approx([0.0, 0.0], abs=1e-9)
    assert lift[2] == pytest.approx(0.1 * thick, rel=1e-4)
