"""The sample boats' sections as pictures show them."""

from collections.abc import Callable
from dataclasses import dataclass

import pytest

from stringerlab.assess import Results, check, reference_plating, section_properties
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.laminate import Moduli, PlyNumbers, Role, Stack
from stringerlab.materials.records import PlyKind
from stringerlab.project import Project, resolve
from stringerlab.section import FillShape, Plating, Properties, SectionShape, Side, WallShape

SAMPLES = ("eelgrass_workboat", "first_hat_lesson")


@dataclass(frozen=True)
class Shown:
    """A section with its reference plating and what it is worth."""

    id: str
    shape: SectionShape
    plating: Plating | None
    properties: Properties


@pytest.fixture(scope="session")
def boat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


@pytest.fixture(scope="session")
def judged(boat: Project) -> Results:
    return check(boat)


@pytest.fixture(scope="session")
def shown() -> tuple[Shown, ...]:
    """Every section of every sample, and one with overlapping walls, foam, a block and a slope."""
    found: list[Shown] = []
    for name in SAMPLES:
        project = load(folder("sample_projects") / f"{name}.json")
        resolved = resolve(project)
        for section in project.sections:
            shape, plating = resolved.shapes[section.id], reference_plating(resolved, section)
            found.append(Shown(section.id, shape, plating, section_properties(shape, plating, Moduli.PLAIN)))
    return (*found, cut_section())


@pytest.fixture(scope="session")
def lay() -> Callable[..., Stack]:
    """Lay up plies given as (thickness, modulus, kind)."""
    return laid


@pytest.fixture(scope="session")
def one_ply() -> Callable[..., PlyNumbers]:
    """A ply by thickness, modulus, kind, and angle in radians."""
    return ply


def laid(*plies: tuple[float, float, PlyKind], gel: float = 0.0, core: float = 0.0) -> Stack:
    made = [ply(gel, 0.0, None, Role.GEL_COAT)] if gel else []
    made += [ply(thickness, E, kind) for thickness, E, kind in plies]
    if core:
        made.insert(len(made) // 2 + 1, ply(core, 80.0, None, Role.CORE))
    return Stack(name="laminate", plies=tuple(made))


def ply(
    thickness: float, E: float, kind: PlyKind | None, role: Role = Role.REINFORCED, *, angle: float = 0.0
) -> PlyNumbers:
    strength = 100.0 if role is Role.REINFORCED else None
    return PlyNumbers(
        name=str(kind or role),
        role=role,
        kind=kind,
        angle=angle,
        thickness=thickness,
        mass=1500.0 * thickness,
        dry_weight=500.0 * thickness,
        glass=0.3,
        E1=E,
        E2=E,
        G12=E / 2.6,
        nu12=0.3,
        tension_1=strength,
        compression_1=strength,
        tension_2=strength,
        compression_2=strength,
        shear=strength,
        flexural=strength,
        interlaminar=strength,
        marks=(),
    )


def cut_section() -> Shown:
    """A box of foam and a block on a slope, a wall drawn into its neighbour, a sandwich among them."""
    skin = laid((1.0, 7000.0, PlyKind.MAT), (1.2, 14000.0, PlyKind.DOUBLE_BIAS), gel=0.5)
    cored = laid((1.5, 9000.0, PlyKind.BIAXIAL), (1.5, 25000.0, PlyKind.UNIDIRECTIONAL), core=10.0)
    slope = 0.2
    walls = (
        WallShape(
            id="w1",
            points=((-60, 40), (60, 60), (50, 150), (-50, 130)),
            fillets=(10, 10, 10, 10),
            side=Side.LEFT,
            closed=True,
            stack=skin,
        ),
        WallShape(
            id="w2", points=((80, 30), (80, 140)), fillets=(), side=Side.RIGHT, closed=False, stack=cored
        ),
        WallShape(
            id="w3", points=((40, 100), (140, 100)), fillets=(), side=Side.LEFT, closed=False, stack=skin
        ),
    )
    fills = (
        FillShape(
            id="f1",
            points=((-40, 65), (30, 75), (30, 100), (-40, 100)),
            name='foam <& "rigid">',
            density=60,
            modulus=0,
            strength=None,
        ),
        FillShape(
            id="f2",
            points=((85, 40), (95, 40), (95, 60), (85, 60)),
            name="block",
            density=2700,
            modulus=70000,
            strength=125,
        ),
    )
    shape = SectionShape(name="cut", walls=walls, fills=fills)
    plating = Plating(stack=skin, width=300.0, deadrise=slope)
    return Shown("cut", shape, plating, section_properties(shape, plating, Moduli.PLAIN))
