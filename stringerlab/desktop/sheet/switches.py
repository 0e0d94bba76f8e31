"""What of the sheet is shown: one switch an overlay, and the moment and shear they are drawn under."""

from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal

from stringerlab.desktop.session import Session
from stringerlab.drawing import Options
from stringerlab.layout import Opening, Span
from stringerlab.methods import Finding
from stringerlab.units import System


@dataclass(frozen=True, slots=True, kw_only=True)
class Switch:
    """One switch: its attribute of ``Switches``, its name, what it shows."""

    id: str
    name: str
    tip: str


SWITCHES = (
    Switch(
        id="axes", name="Neutral axes", tip="Neutral axes and the neutral point, on the section's own plating"
    ),
    Switch(id="ply_edges", name="Ply edges", tip="A line between every two plies"),
    Switch(id="mould_face", name="Mould face", tip="Ticks on the side of a wall where the mould lies"),
    Switch(id="cavity", name="Cavities", tip="Closed cells with their areas"),
    Switch(id="bonded", name="Bonded widths", tip="Where the part lies on the shell or on its bead"),
    Switch(
        id="openings",
        name="Openings",
        tip="Limber and lightening holes of the spans of this section: what each takes out of every web",
    ),
    Switch(id="strain", name="Strain", tip="Strain over the height under the moment below"),
    Switch(id="stress", name="Stress", tip="Stress of every ply under the moment below"),
    Switch(id="shear_flow", name="Shear flow", tip="Shear flow along every wall under the shear below"),
    Switch(
        id="mould",
        name="Mouldability",
        tip="Draft of each web, undercuts, and corners too tight for the cloth, as pulled off a tool above",
    ),
    Switch(id="findings", name="Governing places", tip="Where each finding of the section's spans governs"),
    Switch(
        id="underlay",
        name="Underlay",
        tip="Lines of a drawing laid under this section; the pointer snaps to them",
    ),
    Switch(id="numbers", name="Dimensions", tip="Numbers of what is selected; click one to type it"),
    Switch(id="legend", name="Legend", tip="What the colours and lines mean"),
    Switch(id="lens", name="Lens", tip="Enlarges plies thinner than two pixels under the pointer"),
)


class Switches(QObject):
    """The sheet's switches."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._on = {"axes", "ply_edges", "mould_face", "numbers", "lens", "underlay", "openings"}
        self._moment = 1e6
        self._shear = 5e3

    def is_on(self, id: str) -> bool:  # noqa: A002
        """Whether a switch is on."""
        return id in self._on

    def switch(self, id: str, on: bool) -> None:  # noqa: A002
        """Put a switch on or off."""
        if on != self.is_on(id):
            self._on ^= {id}
            self.changed.emit()

    @property
    def findings(self) -> bool:
        """Whether governing places are shown."""
        return self.is_on("findings")

    @property
    def numbers(self) -> bool:
        """Whether dimensions are shown."""
        return self.is_on("numbers")

    @property
    def legend(self) -> bool:
        """Whether the legend is shown."""
        return self.is_on("legend")

    @property
    def lens(self) -> bool:
        """Whether thin plies are enlarged under the pointer."""
        return self.is_on("lens")

    @property
    def moment(self) -> float:
        """Moment for strain and stress, positive for tension in the crown [N·mm]."""
        return self._moment

    @property
    def shear(self) -> float:
        """Shear force for shear flow [N]."""
        return self._shear

    def load(self, *, moment: float | None = None, shear: float | None = None) -> None:
        """Choose the moment [N·mm] and the shear [N]."""
        self._moment = self._moment if moment is None else moment
        self._shear = self._shear if shear is None else shear
        self.changed.emit()

    def options_of(self, session: Session, section: str) -> Options:
        """Return the drawing's options for a section, with the findings of its spans while they are fresh."""
        results = session.results
        subjects = session.resolved.subjects
        spans = [each for each in subjects if isinstance(each, Span) and each.section == section]
        ids = {span.id for span in spans}
        found = (
            tuple(each for each in results.findings if each.subject in ids)
            if results and session.fresh and self.findings
            else ()
        )
        holes = tuple((span.name, hole) for span in spans for hole in span.openings)
        return self.options(session.units, found, holes)

    def options(
        self, units: System, findings: tuple[Finding, ...], openings: tuple[tuple[str, Opening], ...] = ()
    ) -> Options:
        """Return the drawing's options."""
        return Options(
            units=units,
            ply_edges=self.is_on("ply_edges"),
            mould_face=self.is_on("mould_face"),
            axes=self.is_on("axes"),
            cavity=self.is_on("cavity"),
            bonded=self.is_on("bonded"),
            strain=self.is_on("strain"),
            stress=self.is_on("stress"),
            shear_flow=self.is_on("shear_flow"),
            moment=self._moment if self.is_on("strain") or self.is_on("stress") else 0.0,
            shear=self._shear if self.is_on("shear_flow") else 0.0,
            openings=openings if self.is_on("openings") else (),
            findings=findings,
        )
