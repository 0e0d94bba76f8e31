"""Rows from resolved cases: units, sides, padding, marks."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.craft import Category, Craft, Station
from stringerlab.errors import StringerlabError
from stringerlab.laminate import axial_moduli, resolve
from stringerlab.laminate.records import Laminate, Moduli, Ply, Stack
from stringerlab.layout import End, Panel, PanelCase, Span, SpanCase
from stringerlab.materials import Book, shipped
from stringerlab.methods import (
    CraftRow,
    Verdict,
    craft_row,
    findings,
    method_named,
    panel_rows,
    plating_rows,
    sandwich_rows,
    span_rows,
)
from stringerlab.methods.iso_12215_5_2008.strip import strip
from stringerlab.section import Facts, Properties, facts, properties
from stringerlab.section.records import Plating, SectionShape, WallShape
from stringerlab.section.shapes import hat
from stringerlab.workings import workings

BOOK = Book.of(shipped())
METHOD = method_named("iso_12215_5_2008")
PANEL = Panel(id="p1", name="Aft", b=400, l=900, x=2000, deadrise=18, camber=5, laminate="l1")
SPAN = Span(id="s1", name="Inner", section="c1", plating="l1", lu=1000, s=450, x=2000, deadrise=18)
GEL = Ply(material="gelcoat", thickness=0.5)
TABLE_H1 = ("csm300", "csm300", "wr500", "csm450", "wr800", "csm450", "wr800")


def laid(*plies: Ply | str) -> Stack:
    whole = tuple(Ply(material=ply) if isinstance(ply, str) else ply for ply in plies)
    return resolve(Laminate(id="l1", name="Bottom", plies=whole), BOOK)


def panel(stack: Stack) -> PanelCase:
    return PanelCase(panel=PANEL, stack=stack)


def cored() -> Stack:
    return laid(GEL, "csm300", "wr800", Ply(material="pvc80", thickness=20), "wr500", "csm300")


def hatted(span: Span = SPAN, plating: Stack | None = None) -> tuple[SpanCase, Properties, Facts]:
    stack = laid("csm450", "wr600", "csm450")
    (wall,) = hat(height=100, crown_width=80, flange_width=60, laminate="l2", thickness=3.0, draft=10)
    shape = SectionShape(
        name="hat",
        walls=(
            WallShape(
                id=wall.id,
                points=wall.points,
                fillets=wall.fillets,
                side=wall.side,
                closed=wall.closed,
                stack=stack,
            ),
        ),
    )
    case = SpanCase(span=span, section=shape, plating=plating or laid(*TABLE_H1))
    known = facts(shape)
    width = float(METHOD.plating(plating_rows([case], [known]))[0])
    return case, properties(shape, Plating(stack=case.plating, width=width), METHOD.moduli), known


def test_craft_is_taken_at_four_tenths_of_its_waterline_in_the_programs_units() -> None:
    craft = Craft(
        name="Skerry",
        category=Category.B,
        waterline_length=5000,
        mass=2000,
        speed=36,
        stations=(
            Station(x=0, keel_z=0, chine_y=1000, chine_z=300),
            Station(x=4000, keel_z=200, chine_y=600, chine_z=900),
        ),
    )
    row = craft_row(craft)
    assert (row.category, row.LWL, row.m_LDC, row.BC) == ("B", 5000, 2000, 1600)
    assert np.tan(row.beta_04) == pytest.approx(500 / 800)
    assert float(row.V) == pytest.approx(18.52)  # 36 · 1852/3600
    with pytest.raises(StringerlabError, match="at least two"):
        craft_row(replace(craft, stations=()))


def test_ply_stack_of_annex_h_comes_out_of_the_shipped_materials() -> None:
    rows = panel_rows([panel(laid(GEL, *TABLE_H1))])
    assert rows.t[0] == pytest.approx(6.219, abs=0.0005)
    assert rows.dry_mass[0] == 3600
    assert strip(rows.plies.t, rows.plies.E).EI[0] == pytest.approx(183255, abs=0.5)
    assert rows.plies.names[0][0] == "ply 2: " + laid("csm300").plies[0].name  # the gel coat is ply 1


def test_panel_keeps_its_sizes_and_turns_degrees() -> None:
    rows = panel_rows([panel(laid("csm450"))])
    assert (rows.b[0], rows.l[0], rows.x[0], rows.camber[0]) == (400, 900, 2000, 5)
    assert rows.deadrise[0] == pytest.approx(np.pi / 10)


def test_flexural_strength_is_unknown_of_a_bias_laminate() -> None:
    rows = panel_rows([panel(laid("csm450")), panel(laid("csm450", "db600"))])
    assert rows.sigma_uf[0] == pytest.approx(502 * 0.3**2 + 107)
    assert np.isnan(rows.sigma_uf[1])


def test_shorter_stacks_are_padded_and_judged_as_alone(craft: CraftRow) -> None:
    short, long = panel(laid("csm450", "wr600")), panel(laid(*TABLE_H1))
    both = METHOD.judge_panels(craft, panel_rows([short, long]))
    alone = METHOD.judge_panels(craft, panel_rows([short]))
    for many, single in zip(both, alone, strict=True):
        assert np.broadcast_to(many.utilisation, 2)[0] == pytest.approx(
            np.broadcast_to(single.utilisation, 1)[0]
        )


def test_sandwich_parts_lie_on_their_sides() -> None:
    rows = sandwich_rows([panel(cored())])
    outer, inner = laid("csm300", "wr800"), laid("wr500", "csm300")
    assert rows.t_o[0] == pytest.approx(sum(ply.thickness for ply in outer.plies))
    assert rows.t_i[0] == pytest.approx(sum(ply.thickness for ply in inner.plies))
    assert rows.t_c[0] == pytest.approx(20)
    assert (rows.dry_mass_o[0], rows.dry_mass_i[0]) == (1100, 800)
    E, t = axial_moduli(outer, Moduli.PLAIN), np.array([ply.thickness for ply in outer.plies])
    assert rows.E_o[0] == pytest.approx(E @ t / t.sum())


def test_skin_fails_with_its_first_ply() -> None:
    rows = sandwich_rows([panel(cored())])
    # at one strain, mat: 85/6400, roving: 182.92/13 240: the mat goes first in tension
    assert rows.sigma_ut_o[0] == pytest.approx(rows.E_o[0] * 85 / 6400)
    # in compression the roving does: 144/13 240 against 117/6400
    assert rows.sigma_uc_o[0] == pytest.approx(rows.E_o[0] * 144 / 13240)


def test_core_is_the_shipped_one() -> None:
    rows = sandwich_rows([panel(cored())])
    core = BOOK.core("pvc80")
    assert core is not None
    assert (rows.E_c[0], rows.G_c[0], rows.tau_c[0]) == (
        core.modulus.value,
        core.shear_modulus.value,
        core.shear_strength.value,
    )


def test_counted_plating_of_a_hat_is_twenty_thicknesses_and_its_base() -> None:
    case, _, known = hatted(replace(SPAN, s=2000))
    counted = METHOD.plating(plating_rows([case], [known]))[0]
    assert counted == pytest.approx(20 * 6.21875 + known.base_width)


def test_counted_plating_of_a_sandwich_takes_both_skins() -> None:
    case, _, known = hatted(replace(SPAN, s=2000), plating=cored())
    rows = plating_rows([case], [known])
    skins = sandwich_rows([panel(cored())])
    assert rows.sandwich[0]
    assert rows.t[0] == pytest.approx(skins.t_o[0] + skins.t_i[0])


def test_span_is_judged_at_every_ply_of_section_and_plating(craft: CraftRow) -> None:
    case, worth, known = hatted()
    rows = span_rows([case], [worth], [known])
    assert rows.EI[0] == worth.EI_y
    assert rows.fibre_E.shape == (1, len(worth.fibres.names))
    assert (rows.web_depth[0], rows.crown_width[0]) == (known.web_depth, known.crown_width)
    with workings() as recording:
        judged = METHOD.judge_spans(craft, rows)
    found = findings(METHOD, judged, [("s1", "Inner")], recording)
    left = {one.aspect.value for one in found if one.verdict is Verdict.NOT_JUDGED}
    assert left == {"bond"}
    modulus = found[0]
    # the least, over plies and both signs, of half the strength over what 1 N·mm makes there
    half = np.minimum(worth.fibres.tension, worth.fibres.compression) / 2
    moment = float(np.min(half * worth.modulus()))
    assert modulus.demand is not None
    assert modulus.capacity is not None
    held = moment * (modulus.demand / modulus.capacity)
    P = next(step.result for step in modulus.steps if step.formula.symbol == "P")[0]
    assert held == pytest.approx(P * 450 * 1000**2 / 12, rel=1e-4)


def test_ends_become_factors() -> None:
    case, worth, known = hatted(replace(SPAN, ends=(End.SIMPLE, End.HELD), attached=False))
    rows = span_rows([case], [worth], [known])
    assert (rows.moment_factor[0], rows.shear_factor[0], rows.attached[0]) == (1.5, 1.25, False)
