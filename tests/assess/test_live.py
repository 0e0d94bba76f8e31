"""A section under the hand says what a whole check says, by the same numbers."""

from dataclasses import replace
from math import isclose, radians

import numpy as np
import pytest

from stringerlab.assess import check
from stringerlab.assess.live import live_section
from stringerlab.assess.readings import readings
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.laminate import Moduli
from stringerlab.layout import End
from stringerlab.methods import Aspect, FindingKind, Verdict
from stringerlab.project import Project, edits, resolve
from stringerlab.units import Kind, format

STRINGER, FLOOR = "s5", "s7"


@pytest.fixture(scope="module")
def workboat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


def live(project: Project, section: str = STRINGER):
    return live_section(project, resolve(project), section)


@pytest.mark.parametrize("section", [STRINGER, FLOOR])
def test_live_findings_are_those_of_the_whole_check(workboat: Project, section: str) -> None:
    spans = {span.id for span in workboat.spans if span.section == section}
    whole = tuple(finding for finding in check(workboat).findings if finding.subject in spans)
    shown = live(workboat, section).findings
    slow = tuple(finding for finding in whole if finding.key not in {one.key for one in shown})
    assert shown == tuple(finding for finding in whole if finding not in slow)
    assert {finding.kind for finding in shown} >= {FindingKind.RULE}
    assert {finding.kind for finding in slow} <= {FindingKind.MECHANICS}
    assert {finding.subject for finding in shown} == spans


def test_what_the_whole_check_judges_by_slow_mechanics_is_not_said_to_be_unjudged(workboat: Project) -> None:
    assert Aspect.BOND in {finding.aspect for finding in check(workboat).findings}
    assert Aspect.BOND not in {finding.aspect for finding in live(workboat).findings}


def test_live_follows_a_moved_crown_as_the_check_does(workboat: Project) -> None:
    wall = workboat.sections[0].walls[0]
    y, z = wall.points[3]
    lifted = edits.with_point_moved(workboat, wall.id, 3, (y, z + 12))
    before, after = live(workboat), live(lifted)
    assert before.properties is not None
    assert after.properties is not None
    assert after.properties.EI_y > before.properties.EI_y
    spans = {span.id for span in workboat.spans if span.section == STRINGER}
    kept = {finding.key for finding in after.findings}
    assert after.findings == tuple(f for f in check(lifted).findings if f.subject in spans and f.key in kept)
    assert Aspect.MODULUS in {finding.aspect for finding in after.findings}


def test_only_the_spans_of_the_section_are_judged(workboat: Project) -> None:
    subjects = {finding.subject for finding in live(workboat, FLOOR).findings}
    assert subjects == {span.id for span in workboat.spans if span.section == FLOOR}


def test_properties_stand_on_the_reference_plating_with_first_principles_moduli(workboat: Project) -> None:
    shown = live(workboat)
    reference = shown.section.reference
    assert reference is not None
    assert shown.plating is not None
    assert shown.properties is not None
    assert (shown.plating.width, shown.properties.moduli) == (reference.width, Moduli.CONTRACTED)


def test_facts_stand_on_the_slope_the_section_is_drawn_at(workboat: Project) -> None:
    section = workboat.sections[1]
    assert section.reference is not None
    sloped = replace(section, reference=replace(section.reference, deadrise=12.0))
    shown = live(edits.replaced(workboat, sloped), FLOOR)
    assert shown.facts is not None
    assert isclose(shown.facts.deadrise, radians(12))


def test_without_a_reference_the_section_stands_alone(workboat: Project) -> None:
    section = replace(workboat.sections[0], reference=None)
    shown = live(edits.replaced(workboat, section))
    assert shown.plating is None
    assert shown.properties is not None


def test_a_wall_that_crosses_itself_gives_no_numbers_and_says_why(workboat: Project) -> None:
    wall = workboat.sections[0].walls[0]
    crossed = replace(wall, points=((0, 0), (100, 100), (100, 0), (0, 100)), fillets=())
    shown = live(edits.replaced(workboat, crossed))
    assert shown.properties is None
    assert shown.facts is None
    assert any("wall" in problem.where and "itself" in problem.what for problem in shown.problems)
    assert {finding.verdict for finding in shown.findings} == {Verdict.NOT_JUDGED}
    assert readings(shown) == ()


def test_a_span_that_carries_nothing_is_not_judged_while_the_others_are(workboat: Project) -> None:
    span = next(span for span in workboat.spans if span.section == STRINGER)
    free = edits.replaced(workboat, replace(span, ends=(End.FREE, End.FREE)))
    found = live(free).findings
    own = [finding for finding in found if finding.subject == span.id]
    assert [finding.verdict for finding in own] == [Verdict.NOT_JUDGED]
    assert any(finding.verdict is Verdict.HOLDS for finding in found if finding.subject != span.id)


def test_a_section_that_is_not_there_is_refused(workboat: Project) -> None:
    with pytest.raises(StringerlabError, match="no section 's99'"):
        live(workboat, "s99")


def test_readings_agree_with_what_they_are_read_from(workboat: Project) -> None:
    shown = live(workboat)
    properties, facts = shown.properties, shown.facts
    assert properties is not None
    assert facts is not None
    by_key = {reading.key: reading for reading in readings(shown)}
    fibres, modulus = properties.fibres, properties.modulus()
    above = fibres.z > 0
    assert isclose(by_key["SM_top"].value, float(modulus[above].min()))
    assert isclose(by_key["SM_bottom"].value, float(modulus[~above].min()))
    assert by_key["SM_top"].detail == np.array(fibres.names)[above][int(np.argmin(modulus[above]))]
    assert isclose(by_key["web_slenderness"].value, facts.web_depth / facts.web_thickness)
    assert format(by_key["mass"].value, Kind.MASS_PER_LENGTH) == f"{facts.mass_per_length:.3f} kg/m"
    assert isclose(by_key["fabric"].value, facts.fabric_area_per_length * 1000)  # m²/m is 1000 mm²/mm


def test_a_symmetric_section_has_no_rounding_dust(workboat: Project) -> None:
    by_key = {reading.key: reading.value for reading in readings(live(workboat))}
    assert by_key["y_na"] == 0
    assert by_key["EI_yz"] == 0


def test_every_reading_says_what_it_means_once(workboat: Project) -> None:
    found = readings(live(workboat))
    assert len({reading.key for reading in found}) == len(found)
    assert all(reading.meaning and reading.name for reading in found)


def test_the_enclosed_area_can_be_left_for_later(workboat: Project) -> None:
    shown = live(workboat)
    assert shown.facts is not None
    later = {reading.key: reading.value for reading in readings(shown, enclosed=1234.5)}
    assert later["enclosed"] == 1234.5
    now = {reading.key: reading.value for reading in readings(shown)}
    assert now["enclosed"] == shown.facts.enclosed_area
