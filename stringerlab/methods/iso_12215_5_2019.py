"""ISO 12215-5:2019 form, as far as known: the 2008 form with what is known to differ.

Known to differ, and in here: the dynamic load factor is called k_DYN and takes the chine beam at the
transom, the area factor has no floor, design stresses take a factor by method of assessment. Known to
differ, by how much is not known: the factor along the length is lower aft, and curvature counts both ways;
there what asks for no less is kept. All else is 2008's, and each finding says so.
"""

from collections.abc import Callable
from functools import partial

from stringerlab.laminate.records import Moduli
from stringerlab.methods.iso_12215_5_2008 import METHOD as EARLIER
from stringerlab.methods.iso_12215_5_2008 import (
    Switch,
    judge_panels,
    judge_sandwiches,
    judge_spans,
    pressure,
)
from stringerlab.methods.iso_12215_5_2008.form import Form, Said
from stringerlab.methods.iso_12215_5_2008.source import clause
from stringerlab.methods.records import Method, Part, Remark
from stringerlab.units import M2, Deg, G, Kg, Kn, KPa, M, MPa, Range, Ratio
from stringerlab.workings import Array, Formula, Known, Source, formula
from stringerlab.workings.maths import cbrt, clip, maximum, minimum, where

TITLE = "ISO 12215-5:2019"
_FLAT = Source(title="stringerlab", clause="curvature, taken as none", known=Known.STATED)


def _own(what: str, known: Known, note: str = "") -> Source:
    """Return what differs in this edition as a source: its clause numbers are not known."""
    return Source(title=TITLE, clause=what, known=known, note=note)


@formula(
    symbol="k_DYN1",
    source=_own(
        "dynamic load factor", Known.MEMORY_M, "outside 10 to 30 deg, deadrise is held at the nearer end"
    ),
    valid={"beta_04": Range(10, 30)},
)
def first_load_factor(L_WL: M, B_CT: M, beta_04: Deg, V: Kn, m_LDC: Kg) -> G:
    """Dynamic load factor by its first form, with the chine beam at the transom."""
    return 0.32 * (L_WL / (10 * B_CT) + 0.084) * (50 - clip(beta_04, 10, 30)) * V**2 * B_CT**2 / m_LDC


@formula(symbol="k_DYN2", source=_own("dynamic load factor", Known.MEMORY_M), valid={"V": Range(0, 50)})
def fast_load_factor(V: Kn, m_LDC: Kg) -> G:
    """Dynamic load factor by the form for fast craft."""
    return 0.5 * V / m_LDC**0.17


@formula(symbol="k_DYN", source=_own("dynamic load factor", Known.MEMORY_M))
def greater_load_factor(k_DYN1: G, k_DYN2: G) -> G:
    """Dynamic load factor: the first form to 3, above it the greater of both forms, never above 7."""
    return where(k_DYN1 > 3, minimum(maximum(k_DYN1, k_DYN2), 7), k_DYN1)


@formula(symbol="k_DYN", source=_own("dynamic load factor", Known.MEMORY_M))
def lesser_load_factor(k_DYN1: G, k_DYN2: G) -> G:
    """Dynamic load factor: the first form to 3, above it the lesser of both forms, within 3 and 7."""
    return where(k_DYN1 > 3, clip(minimum(k_DYN1, k_DYN2), 3, 7), k_DYN1)


@formula(
    symbol="k_L",
    source=clause("7.4, carried over", Known.MEMORY_H, "aft of the waterline its aft end counts"),
    valid={"x_L": Range(0, 1)},
)
def length_factor(x_L: Ratio, k_DYN: G) -> Ratio:
    """Longitudinal pressure distribution factor of 2008; the load factor held in 3…6."""
    n = clip(k_DYN, 3, 6)
    return where(x_L < 0.6, (1 - 0.167 * n) / 0.6 * maximum(x_L, 0) + 0.167 * n, 1)


@formula(symbol="k_AR", source=_own("area factor, no floor", Known.MEMORY_M))
def area_factor(k_R: Ratio, m_LDC: Kg, A_D: M2) -> Ratio:
    """Area pressure reduction factor, without a floor."""
    return minimum(k_R * 0.1 * m_LDC**0.15 / A_D**0.3, 1)


@formula(symbol="P_P", source=clause("8.1, bottom, carried over", Known.MEMORY_H))
def planing_pressure(m_LDC: Kg, L_WL: M, B_CT: M, k_DC: Ratio, k_DYN: G, k_AR: Ratio, k_L: Ratio) -> KPa:
    """Bottom pressure in planing mode, with the chine beam at the transom."""
    return 0.1 * m_LDC / (L_WL * B_CT) * (1 + k_DC**0.5 * k_DYN) * k_AR * k_L


@formula(symbol="P_P_base", source=clause("8.1, bottom, carried over", Known.MEMORY_H))
def planing_base(m_LDC: Kg, L_WL: M, B_CT: M, k_DC: Ratio, k_DYN: G) -> KPa:
    """Base of the bottom pressure in planing mode, with the chine beam at the transom."""
    return 0.1 * m_LDC / (L_WL * B_CT) * (1 + k_DC**0.5 * k_DYN)


@formula(symbol="k_C", source=_FLAT)
def flat_panel() -> Ratio:
    """Curvature factor of a panel, taken as flat."""
    return 1.0


@formula(symbol="k_CS", source=_FLAT)
def straight_stiffener() -> Ratio:
    """Curvature factor of a stiffener, taken as straight."""
    return 1.0


@formula(symbol="k_AM", source=_own("factor by method of assessment", Known.MEMORY_L))
def assessment_factor() -> Ratio:
    """Assessment method factor: that of the simplified method, the least of those remembered."""
    return 0.9


@formula(symbol="sigma_d", source=_own("design stress", Known.MEMORY_L))
def design_stress(sigma_u: MPa, k_AM: Ratio) -> MPa:
    """Design stress from the ultimate: flexural, tension or compression."""
    return 0.5 * sigma_u * k_AM


@formula(symbol="tau_d", source=_own("design stress", Known.MEMORY_L))
def design_shear_stress(tau_u: MPa, k_AM: Ratio) -> MPa:
    """Design shear stress from the ultimate."""
    return 0.5 * tau_u * k_AM


@formula(symbol="tau_d", source=_own("design stress", Known.MEMORY_L))
def core_design_shear_stress(tau_u: MPa, ductile: Ratio, k_AM: Ratio) -> MPa:
    """Design shear stress of a core; ``ductile`` is 1 for a ductile core and 0 otherwise."""
    return where(ductile > 0, 0.55, 0.5) * tau_u * k_AM


@formula(symbol="sigma_w", source=_own("design stress", Known.MEMORY_L))
def wrinkling_stress(E: MPa, E_c: MPa, G_c: MPa, k_AM: Ratio) -> MPa:
    """Design stress of a skin in compression against wrinkling."""
    return 0.3 * cbrt(E * E_c * G_c) * k_AM


def _assessed(stress: Formula) -> Callable[..., Array]:
    """Return a design stress with the factor by method of assessment."""

    def with_factor(*of: Array) -> Array:
        return stress(*of, k_AM=assessment_factor())

    return with_factor


def _whatever_the_rise(factor: Formula) -> Callable[[Array, Array], Array]:
    def same(rise: Array, over: Array) -> Array:
        del rise, over
        return factor()

    return same


FORM = Form(
    beam=lambda craft: craft.BC_transom,
    first_load_factor=first_load_factor,
    fast_load_factor=fast_load_factor,
    load_factor={Switch.GREATER: greater_load_factor, Switch.LESSER: lesser_load_factor},
    length_factor=length_factor,
    area_factor=area_factor,
    sandwich_area_factor=area_factor,
    planing_pressure=planing_pressure,
    planing_base=planing_base,
    curvature_factor=_whatever_the_rise(flat_panel),
    stiffener_curvature_factor=_whatever_the_rise(straight_stiffener),
    design_stress=_assessed(design_stress),
    design_shear_stress=_assessed(design_shear_stress),
    core_design_shear_stress=_assessed(core_design_shear_stress),
    wrinkling_stress=_assessed(wrinkling_stress),
    said=Said(
        pressure=(
            Remark(
                "2019's own in the pressure: k_DYN with the chine beam at the transom, k_AR without a floor; "
                "its other numbers are 2008's, carried over"
            ),
        ),
        aft=("k_L is 2008's: 2019's is lower aft, by how much is not known here; 2008's asks for no less",),
        head=(Remark("the pressure is 2008's, carried over"),),
        curved=(
            "2019 counts curvature both ways by a factor not known here: none is counted, "
            "which asks for no less",
        ),
        requirement=(Remark("the form of the requirement is 2008's, carried over"),),
        stress=(
            Remark(
                "2019's own in the design stress: k_AM, 0.9 as the least remembered; "
                "the part of the ultimate is 2008's, carried over"
            ),
        ),
        panel=(
            Remark("2019 counts natural stiffeners, such as chines, as edges: panels are judged as declared"),
        ),
        minimum=(Remark("this minimum or proportion is 2008's, carried over: 2019's is not known here"),),
    ),
)

METHOD = Method(
    id="iso_12215_5_2019",
    name="ISO 12215-5:2019 form, as far as known",
    edition="2019, in part",
    title=TITLE,
    superseded=(
        "ISO 12215-5:2019 is known here in part, each finding says which; a text of 2021 has followed it. "
        "Its annex for work craft is not in here."
    ),
    moduli=Moduli.PLAIN,
    plating=EARLIER.plating,
    judge_panels=partial(judge_panels, form=FORM),
    judge_sandwiches=partial(judge_sandwiches, form=FORM),
    judge_spans=partial(judge_spans, form=FORM),
    pressure=partial(pressure, form=FORM),
    evaluation=EARLIER.evaluation,
    parts={**EARLIER.parts, Part.ACCELERATION: "k_DYN"},
)
