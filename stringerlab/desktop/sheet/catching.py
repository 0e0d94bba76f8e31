"""What catches the pointer on the sheet, and what it picks: kept until the section or the view changes."""

from collections.abc import Collection

from stringerlab.desktop.sheet.tool import Place
from stringerlab.desktop.sheet.underlay import Underlay
from stringerlab.geometry.picking import Pickable
from stringerlab.geometry.snapping import Snap, Targets, snap
from stringerlab.section import Plating, Section, SectionShape
from stringerlab.section.catching import bodies_to_pick, targets


class Catcher:
    """Targets of one section; equal ones are made once."""

    def __init__(self) -> None:
        self._targets: tuple[tuple[object, ...], Targets] | None = None
        self._bodies: tuple[object, Pickable] | None = None

    def snap(
        self,
        drawn: SectionShape | Section,
        plating: Plating | None,
        deadrise: float,
        grid: float,
        raw: Place,
        radius: float,
        *,
        origin: Place | None,
        ortho: bool,
        without: Collection[str],
        points: bool,
        underlay: Underlay | None = None,
    ) -> Snap | None:
        """Return what catches the pointer; with ``points`` off only the ortho lock holds it."""
        key = (drawn, plating, deadrise, grid, underlay)
        if self._targets is None or self._targets[0] != key:
            lines = underlay.lines if underlay else ()
            self._targets = (key, targets(drawn, plating, deadrise=deadrise, grid=grid, underlay=lines))
        if not points:
            return snap(self._targets[1], raw, radius, origin, ortho, kinds=()) if ortho else None
        return snap(self._targets[1], raw, radius, origin, ortho, without=without)

    def bodies(self, drawn: SectionShape | Section) -> Pickable:
        """Return what of a section can be picked."""
        if self._bodies is None or self._bodies[0] is not drawn:
            self._bodies = (drawn, bodies_to_pick(drawn))
        return self._bodies[1]
