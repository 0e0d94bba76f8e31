"""What leaves the program besides documents: drawings as SVG and DXF, tables as CSV.

The same project gives the same bytes. The form goes by the ending of the file's name.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from types import MappingProxyType

from stringerlab import __version__
from stringerlab.assess import Results, check
from stringerlab.assess.takeoff import take_off
from stringerlab.drawing import LIGHT, PRINT, dxf, svg
from stringerlab.errors import Problem, StringerlabError
from stringerlab.project import Project, Resolved, resolve
from stringerlab.report.csv_tables import (
    NO_ASSESSMENT,
    Told,
    findings_table,
    properties_table,
    takeoff_table,
)
from stringerlab.report.csv_text import csv_bytes
from stringerlab.report.drawings import Drawing, layout_drawing, sections_drawing
from stringerlab.report.paper import Watch, project_hash
from stringerlab.units import System


class What(StrEnum):
    """What is exported."""

    SECTIONS = "sections"
    LAYOUT = "layout"
    FINDINGS = "findings"
    PROPERTIES = "properties"
    TAKEOFF = "takeoff"


class Form(StrEnum):
    """A file's form, by the ending of its name."""

    SVG = "svg"
    DXF = "dxf"
    CSV = "csv"


_DRAWN = (Form.SVG, Form.DXF)
FORMS: Mapping[What, tuple[Form, ...]] = MappingProxyType(
    {
        What.SECTIONS: _DRAWN,
        What.LAYOUT: _DRAWN,
        What.FINDINGS: (Form.CSV,),
        What.PROPERTIES: (Form.CSV,),
        What.TAKEOFF: (Form.CSV,),
    }
)
"""The forms each is written in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Export:
    """A file's bytes, and what is wrong with what is not in it."""

    data: bytes
    left_out: tuple[Problem, ...] = ()


def form_of(path: Path | str, what: What) -> Form:
    """Return the form of a file by the ending of its name.

    Raises
    ------
    StringerlabError
        When the thing is not written in that form.
    """
    ending = Path(path).suffix.lower().removeprefix(".")
    found = next((form for form in FORMS[what] if form.value == ending), None)
    if found is None:
        given = f"'.{ending}'" if ending else "a name without an ending"
        forms = " or ".join(f".{form}" for form in FORMS[what])
        raise StringerlabError(
            Problem(
                f"{what.value.capitalize()} are not written as {given}.", str(path), f"End it in {forms}."
            )
        )
    return found


def exported(
    project: Project,
    what: What,
    form: Form,
    *,
    section: str = "",
    method: str | None = None,
    system: System | None = None,
    resolved: Resolved | None = None,
    results: Results | None = None,
    watch: Watch | None = None,
) -> Export:
    """Return one thing of a project as a file's bytes.

    Parameters
    ----------
    project
        The document; its layout in use is the one drawn.
    what, form
        What is wanted, and in which form.
    section
        Id of the one section wanted of sections or properties; all by default, drawn side by side.
    method
        Id of the method of findings, instead of the project's own.
    system
        Units; the project's own by default. Drawings are in mm in any.
    resolved, results
        The project resolved and checked, where they are at hand.
    watch
        Told of progress, and asked to stop.

    Raises
    ------
    StringerlabError
        When it is not written in that form, there is nothing of it, or it is all wrong; when a DXF does not
        pass its audit.
    """
    if form not in FORMS[what]:
        form_of(f"{what}.{form}", what)
    units = system or project.units
    mark = f"stringerlab {__version__}, project {project_hash(project)}"
    chosen = (section,) if section else ()
    if what is What.FINDINGS:
        judged = results or check(project, method, watch, resolved=resolved)
        if not judged.findings:
            raise StringerlabError(nothing_judged(project))
        return Export(data=csv_bytes(findings_table(judged, mark, units)), left_out=judged.problems)
    read = resolved or (results.resolved if results else resolve(project))
    said = (mark, f"{NO_ASSESSMENT[0].upper()}{NO_ASSESSMENT[1:]}.")
    match what:
        case What.SECTIONS:
            return _drawn(sections_drawing(project, read, sections=chosen, said=said, system=units), form)
        case What.LAYOUT:
            return _drawn(layout_drawing(project, read, said=said, system=units), form)
        case What.PROPERTIES:
            _refuse_none(project)
            return _written(properties_table(project, read, mark, units, sections=chosen))
        case What.TAKEOFF:
            _refuse_none(project)
            return _written(takeoff_table(take_off(project, read), mark, units))


def nothing_judged(project: Project) -> Problem:
    """Return what is said of a project with nothing to report, and what to add."""
    return Problem(
        "There is nothing to report: no panel and no span is declared or found in a layout.",
        f"project '{project.name}'",
        "Add a panel or a span, or draw a layout on the Plan page and put it in use.",
    )


def _refuse_none(project: Project) -> None:
    if not project.sections:
        raise StringerlabError(
            Problem(
                "There is nothing to write: it has no section.",
                f"project '{project.name}'",
                "Draw a section, or begin with a shape.",
            )
        )


def _drawn(drawing: Drawing, form: Form) -> Export:
    if form is Form.DXF:
        data = dxf(drawing.picture, LIGHT, scale=drawing.scale, layers=drawing.layers, fills=drawing.fills)
    else:
        text = svg(drawing.picture, PRINT, title=drawing.title, legend=drawing.legend, scale=drawing.scale)
        data = text.encode("utf-8")
    return Export(data=data, left_out=drawing.left_out)


def _written(told: Told) -> Export:
    return Export(data=csv_bytes(told.table), left_out=told.left_out)


__all__ = ["FORMS", "Export", "Form", "What", "exported", "form_of", "nothing_judged"]
