"""The findings page with the mechanics running: what is the method's own and what is theirs, told apart."""

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from stringerlab.assess import check
from stringerlab.assess.mechanics import REPLACED
from stringerlab.desktop.models.findings import FINDING_ROLE
from stringerlab.desktop.pages.findings import FindingsPage
from stringerlab.desktop.session import Session
from stringerlab.methods import Aspect, Finding, FindingKind, Verdict


@pytest.fixture
def page(lesson_session: Session, qtbot: QtBot) -> Iterator[FindingsPage]:
    made = FindingsPage(lesson_session)
    qtbot.addWidget(made)
    made.resize(1180, 740)
    with qtbot.waitExposed(made):
        made.show()
    qtbot.waitUntil(lambda: lesson_session.fresh, timeout=20_000)
    yield made
    made.close()


def held(page: FindingsPage) -> list[Finding]:
    model = page.table.model()
    return [model.index(row, 0).data(FINDING_ROLE) for row in range(model.rowCount())]


def keys(findings: list[Finding] | tuple[Finding, ...]) -> set[object]:
    return {finding.key for finding in findings}


def test_the_mechanics_stand_beside_the_methods_own_and_in_place_of_what_it_leaves_open(
    page: FindingsPage, lesson_session: Session
) -> None:
    alone = check(lesson_session.project, topics=()).findings
    shown = held(page)
    rule = [one for one in shown if one.kind is FindingKind.RULE]
    mechanics = [one for one in shown if one.kind is FindingKind.MECHANICS]
    aspects = {one.aspect for one in mechanics}
    assert {Aspect.PLY_FAILURE, Aspect.WEB_BUCKLING, Aspect.BOND, Aspect.PEEL} <= aspects
    left = [one for one in alone if one.verdict is Verdict.NOT_JUDGED and one.aspect in REPLACED]
    assert left
    assert keys(rule) == keys(alone) - keys(tuple(left))
    uses = [one.utilisation for one in shown if one.utilisation is not None]
    assert uses == sorted(uses, reverse=True)
    assert {one.utilisation for one in mechanics} & set(uses)


def test_each_origin_is_read_alone_and_both_again(page: FindingsPage) -> None:
    whole = len(held(page))
    page.by.setCurrentText("mechanics under its pressure")
    mechanics = held(page)
    assert {one.kind for one in mechanics} == {FindingKind.MECHANICS}
    assert all("mechanics" in one.method for one in mechanics)
    page.aspect.setCurrentText(Aspect.PLY_FAILURE.value)
    assert {one.aspect for one in held(page)} == {Aspect.PLY_FAILURE}
    page.by.setCurrentText("the method's own")
    assert held(page) == []  # no method judges the failure of a ply by itself
    page.aspect.setCurrentIndex(0)
    rule = held(page)
    assert {one.kind for one in rule} == {FindingKind.RULE}
    assert len(rule) + len(mechanics) == whole
    page.clear.click()
    assert len(held(page)) == whole


def test_a_finding_of_the_mechanics_hidden_by_the_filter_is_shown_when_asked_for(page: FindingsPage) -> None:
    bond = next(one for one in held(page) if one.aspect is Aspect.BOND)
    page.by.setCurrentText("the method's own")
    page.show_finding(bond)
    assert page.by.currentIndex() == 0
    assert page.table.currentIndex().data(FINDING_ROLE).key == bond.key
    assert page.pane.heading.text() == f"{bond.name}: {bond.aspect.value}"
