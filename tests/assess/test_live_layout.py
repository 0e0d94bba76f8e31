"""A layout under the hand is judged as in a whole check, and only what changed is judged anew."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stringerlab.assess.judging import judged_panels, judged_spans
from stringerlab.assess.live_layout import LiveLayout
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout.plan import Layout, Member, MemberKind
from stringerlab.methods import craft_row, method_named
from stringerlab.project import Project, planning, resolve
from stringerlab.project.again import resolved_again

BOAT = load(folder("sample_projects") / "tidewrack_plain.json")


@pytest.fixture(scope="module")
def laid() -> Project:
    """A pair of longitudinals and five floors."""
    grown = planning.with_layout(replace(BOAT, layouts=(), layout=""), Layout(id="", name="Five floors"))
    hat, floor = grown.sections[0].id, grown.sections[1].id
    parts = [
        Member(
            id="",
            name="Inner",
            kind=MemberKind.LONGITUDINAL,
            points=((0.0, 600.0), (6000.0, 600.0)),
            section=hat,
        ),
        *(
            Member(
                id="",
                name=f"Floor {number}",
                kind=MemberKind.TRANSVERSE,
                points=((1000.0 * number, 0.0), (1000.0 * number, 1330.0)),
                section=floor,
            )
            for number in range(1, 6)
        ),
    ]
    return planning.with_parts(grown, grown.layout, parts)


def test_live_findings_are_those_of_the_rule_after_every_move(laid: Project) -> None:
    live = LiveLayout()
    method, craft = method_named(laid.method), craft_row(laid.craft)
    third = next(each.id for each in laid.layouts[0].members if each.name == "Floor 3")
    for shift in (0.0, 40.0, 80.0, -30.0, 0.0):
        project = planning.moved(laid, [third], shift, 0.0) if shift else laid
        resolved = resolve(project)
        assert resolved.found is not None
        mine = {bay.id for bay in resolved.found.bays} | {span.id for span in resolved.found.spans}
        whole = [
            *judged_panels(method, craft, resolved.panels),
            *judged_spans(method, craft, resolved.spans),
        ]
        wanted = {each.key: (each.utilisation, each.verdict) for each in whole if each.subject in mine}
        got = {each.key: (each.utilisation, each.verdict) for each in live.findings(project, resolved)}
        assert got.keys() == wanted.keys()
        for key, (utilisation, verdict) in wanted.items():
            assert got[key][1] is verdict
            assert got[key][0] == (None if utilisation is None else pytest.approx(utilisation, rel=1e-12))


def test_only_what_a_move_changes_is_judged_anew(laid: Project) -> None:
    live = LiveLayout()
    before = resolve(laid)
    live.findings(laid, before)
    every = live.judged
    first = next(each.id for each in laid.layouts[0].members if each.name == "Floor 1")
    moved = planning.moved(laid, [first], 25.0, 0.0)
    live.findings(moved, resolved_again(moved, laid, before))
    assert 0 < live.judged < every / 2


def test_without_a_layout_nothing_is_found() -> None:
    bare = replace(BOAT, layouts=(), layout="")
    assert LiveLayout().findings(bare, resolve(bare)) == ()
