"""What of a drawn section a pointer catches on and can pick."""

from collections.abc import Callable
from math import hypot

import numpy as np
import pytest

from stringerlab.geometry import picking
from stringerlab.geometry.picking import What
from stringerlab.geometry.snapping import Kind, snap
from stringerlab.laminate import Stack
from stringerlab.section import Plating, Section, SectionShape, Side, Wall
from stringerlab.section.catching import PLATING, SHELL, UNDERLAY, bodies_to_pick, targets
from stringerlab.section.drawn import drawn_walls

Drawn = tuple[SectionShape, Plating | None]
Lay = Callable[..., Stack]


def test_flange_snaps_onto_the_shell_and_the_plating(sections: dict[str, Drawn]):
    hat, plating = sections["hat"]
    held = targets(hat, plating)
    found = snap(held, (-190.0, 1.5), 3.0)
    assert found is not None
    assert (found.kind, found.at) == (Kind.FACE, (-190.0, 0.0))
    assert found.subject in (SHELL, PLATING)
    edge = snap(held, (209.0, 1.0), 3.0)
    assert edge is not None
    assert (edge.kind, edge.at, edge.subject) == (Kind.END, (210.0, 0.0), PLATING)


def test_pointer_catches_the_laminates_far_face_where_the_last_ply_ends(sections: dict[str, Drawn]):
    hat, plating = sections["hat"]
    thickness = sum(ply.thickness for ply in hat.walls[0].stack.plies)
    found = snap(targets(hat, plating), (13.0, 130.0 - thickness - 0.4), 1.0)
    assert found is not None
    assert found.kind is Kind.FACE
    assert found.at == pytest.approx((13.0, 130.0 - thickness))


def test_fillets_centre_is_caught_for_both_faces(sections: dict[str, Drawn]):
    hat, plating = sections["hat"]
    held = targets(hat, plating)
    wall = next(each for each in drawn_walls(hat) if each.id == "w1")
    arc = wall.tool[1:10]
    centres = held.circles[held.circles[:, 2] == 18.0]
    assert len(centres) == 2
    off = [hypot(y - centres[0, 0], z - centres[0, 1]) for y, z in arc]
    assert off == pytest.approx([18.0] * 9)
    sizes = sorted(held.circles[:, 2].tolist())
    assert sizes == pytest.approx(
        sorted([18, 18, 14, 14] + [18 + wall.thickness] * 2 + [14 - wall.thickness] * 2)
    )


def test_underlay_lines_are_caught(sections: dict[str, Drawn]):
    hat, plating = sections["hat"]
    held = targets(hat, plating, underlay=[np.array([(300.0, 50.0), (400.0, 50.0)])])
    found = snap(held, (330.0, 51.0), 3.0)
    assert found is not None
    assert (found.subject, found.at) == (UNDERLAY, (330.0, 50.0))


def test_section_without_sound_laminates_is_caught_by_its_lines():
    wall = Wall(id="w1", points=((0.0, 10.0), (50.0, 10.0)), laminate="gone", side=Side.LEFT)
    bare = Section(id="s1", name="bare", walls=(wall,))
    found = snap(targets(bare, grid=5.0), (26.0, 11.0), 3.0)
    assert found is not None
    assert (found.kind, found.at) == (Kind.MIDDLE, (25.0, 10.0))
    assert all(not each.outline for each in drawn_walls(bare))
    assert picking.pick(bodies_to_pick(bare), (26.0, 11.0), 3.0) is not None


def test_section_without_walls_still_has_its_shell_and_grid():
    empty = Section(id="s1", name="empty", walls=())
    found = snap(targets(empty, deadrise=0.3, grid=10.0), (1.0, 1.0), 3.0)
    assert found is not None
    assert (found.kind, found.at, found.subject) == (Kind.END, (0.0, 0.0), SHELL)


def test_legs_and_corners_are_picked_by_their_numbers_as_drawn(sections: dict[str, Drawn]):
    hat, _ = sections["hat"]
    held = bodies_to_pick(hat)
    for leg, at in [
        (0, (-130.0, 5.0)),
        (1, (-72.5, 65.0)),
        (2, (0.0, 130.0)),
        (3, (72.5, 65.0)),
        (4, (130, 5)),
    ]:
        found = picking.pick(held, at, 3.0, only={What.SEGMENT})
        assert found is not None
        assert found.index == leg
    for corner, at in [(1, (-88.0, 9.0)), (2, (-56.0, 127.0)), (4, (88.0, 9.0))]:
        found = picking.pick(held, at, 6.0, only={What.FILLET})
        assert found is not None
        assert found.index == corner


def test_every_body_of_every_section_is_picked_in_its_middle(sections: dict[str, Drawn]):
    for shape, _ in sections.values():
        held = bodies_to_pick(shape)
        for wall in drawn_walls(shape):
            middle = (wall.tool[0] + wall.tool[1] + wall.face[0] + wall.face[1]) / 4
            found = picking.pick(held, (float(middle[0]), float(middle[1])), 0.01)
            assert found is not None
            assert found.what is What.WALL
