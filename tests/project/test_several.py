"""Edits of several panels or spans in one step."""

import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project import Project
from stringerlab.project.several import all_added, all_removed, shifted


@pytest.fixture(scope="module")
def workboat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


def order(project: Project) -> list[str]:
    return [panel.id for panel in project.panels]


def test_one_panel_moves_up_and_back(workboat: Project) -> None:
    ids = order(workboat)
    up = shifted(workboat, [ids[3]], -1)
    assert order(up) == [ids[0], ids[1], ids[3], ids[2], *ids[4:]]
    assert shifted(up, [ids[3]], 1) == workboat


def test_several_keep_their_order_and_rest_against_the_end(workboat: Project) -> None:
    ids = order(workboat)
    moved = shifted(workboat, [ids[1], ids[3]], -3)
    assert order(moved) == [ids[1], ids[3], ids[0], ids[2], *ids[4:]]
    assert order(shifted(workboat, [ids[0], ids[1]], -1)) == ids
    down = shifted(workboat, [ids[-2], ids[0]], 20)
    assert order(down) == [*ids[1:-2], ids[-1], ids[0], ids[-2]]


def test_panels_and_spans_do_not_mix(workboat: Project) -> None:
    with pytest.raises(StringerlabError, match="no panel, span or zone"):
        shifted(workboat, [workboat.panels[0].id, workboat.spans[0].id], 1)


def test_all_are_added_under_new_ids(workboat: Project) -> None:
    grown = all_added(workboat, workboat.panels[:2])
    ids = order(grown)
    assert len(set(ids)) == len(workboat.panels) + 2
    assert ids[:-2] == order(workboat)


def test_removing_is_whole_or_not_at_all(workboat: Project) -> None:
    ids = order(workboat)
    assert order(all_removed(workboat, [ids[0], ids[2]])) == [ids[1], *ids[3:]]
    with pytest.raises(StringerlabError, match="no thing 'p999'"):
        all_removed(workboat, [ids[0], "p999"])
