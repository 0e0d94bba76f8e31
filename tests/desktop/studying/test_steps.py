"""A step that was tried is the one that is taken."""

from __future__ import annotations

import pytest

from stringerlab.data import folder
from stringerlab.desktop.studying.steps import place_of, with_step
from stringerlab.files import load
from stringerlab.sizing.plain import measured
from stringerlab.sizing.running import Running
from stringerlab.sizing.studying.sensitivity import sensitivity


def test_the_step_taken_comes_to_what_was_said_of_it_with_the_mat_it_was_tried_with() -> None:
    project = load(folder("sample_projects") / "eelgrass_workboat.json")
    helped = sensitivity(project, running=Running(workers=1), mechanics=False).helped[0]
    (step,) = [one for one in helped.steps if "ply 4 (wr800) in Bottom 1 → 2, with csm450" in one.name]
    place = place_of(project, step)
    assert place is not None
    assert place.id == "l1"
    boat = with_step(project, step)
    assert len(boat.laminates[0].plies) == len(project.laminates[0].plies) + 2
    found = measured(boat)
    one = found.highest(subject=helped.subject, aspect=helped.aspect)
    assert one is not None
    assert one.utilisation == pytest.approx(step.use, rel=1e-12)
    assert found.mass - measured(project).mass == pytest.approx(step.mass_change, rel=1e-9)
