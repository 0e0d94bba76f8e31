"""What of the session's project the hand works on: a section, shown and committed, with its numbers."""

from stringerlab.assess import reference_plating, section_properties
from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet.underlay import Underlay, Underlays
from stringerlab.errors import StringerlabError
from stringerlab.laminate import Moduli, thickness_with_gel
from stringerlab.project import Project, Resolved, book_of
from stringerlab.project.again import resolved_again
from stringerlab.section import Plating, Properties, Section, SectionShape


class Sight:
    """Looks at one section; what has been looked at is kept until it changes."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.underlays = Underlays(session, session)
        self.section_id = session.project.sections[0].id if session.project.sections else ""
        self._resolved: tuple[Project, Resolved] | None = None
        self._committed: tuple[Project, Resolved] | None = None
        self._properties: tuple[SectionShape, Plating | None, Properties | None] | None = None
        self._thick: tuple[object, dict[str, float]] | None = None

    @property
    def section(self) -> Section | None:
        """The section shown: of the preview while there is one."""
        return self._of(self.session.shown)

    @property
    def committed(self) -> Section | None:
        """The section as committed."""
        return self._of(self.session.project)

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of the committed section's walls and fills."""
        section = self.committed
        return tuple(part.id for part in (*section.walls, *section.fills)) if section else ()

    @property
    def resolved(self) -> Resolved:
        """What is shown with ids swapped for objects, quickly after a change to sections alone."""
        self._resolved = self._again(self.session.shown, self._resolved)
        return self._resolved[1]

    @property
    def shape(self) -> SectionShape | None:
        """The section shown, resolved; None where it has a fault."""
        return self.resolved.shapes.get(self.section_id)

    @property
    def committed_shape(self) -> SectionShape | None:
        """The section as committed, resolved: what is in the hand does not catch itself."""
        self._committed = self._again(self.session.project, self._committed or self._resolved)
        return self._committed[1].shapes.get(self.section_id)

    @property
    def underlay(self) -> Underlay | None:
        """What is seen to lie under the section."""
        return self.underlays.of(self.section_id)

    @property
    def plating(self) -> Plating | None:
        """The strip the section is shown with."""
        section = self.section
        return reference_plating(self.resolved, section) if section else None

    @property
    def properties(self) -> Properties | None:
        """Stiffness of what is shown, on its reference plating; None where it has none."""
        shape, plating = self.shape, self.plating
        if shape is None:
            return None
        held = self._properties
        if held is None or held[0] is not shape or held[1] != plating:
            try:
                found = section_properties(shape, plating, Moduli.CONTRACTED)
            except StringerlabError:
                found = None
            self._properties = held = (shape, plating, found)
        return held[2]

    @property
    def thicknesses(self) -> dict[str, float]:
        """Of laminates by id, with gel coat, as committed [mm]; taken anew only when laminates change."""
        laminates = self.session.project.laminates
        if self._thick is None or self._thick[0] is not laminates:
            stacks = self.resolved.stacks
            self._thick = (laminates, {name: thickness_with_gel(stack) for name, stack in stacks.items()})
        return self._thick[1]

    def thinnest_ply(self, wall: str) -> float | None:
        """Return the thickness of a wall's thinnest ply [mm]; None where its laminate is not sound."""
        section = self.section
        found = next((each for each in section.walls if each.id == wall), None) if section else None
        stack = self.resolved.stacks.get(found.laminate) if found else None
        return min(ply.thickness for ply in stack.plies) if stack and stack.plies else None

    def solid_name(self, material: str) -> str:
        """Return a solid's name."""
        solid = book_of(self.session.project).solid(material)
        return solid.name if solid else "a solid"

    def _of(self, project: Project) -> Section | None:
        return next((section for section in project.sections if section.id == self.section_id), None)

    def _again(self, project: Project, held: tuple[Project, Resolved] | None) -> tuple[Project, Resolved]:
        if held is None:
            held = (self.session.shown, self.session.resolved)
        return held if held[0] is project else (project, resolved_again(project, *held))
