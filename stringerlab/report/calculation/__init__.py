"""The calculation report: everything a naval architect needs to check a project line by line, as one PDF."""

from typing import Literal

from stringerlab.assess import Against, Relative, Results, against
from stringerlab.report.calculation.beside import methods_beside, parent_beside
from stringerlab.report.calculation.cavities import cavities
from stringerlab.report.calculation.closing import no_opinions, opinions, signing, sources
from stringerlab.report.calculation.findings import findings, not_judged
from stringerlab.report.calculation.grid import grid
from stringerlab.report.calculation.laminates import laminates
from stringerlab.report.calculation.layout_plan import plan
from stringerlab.report.calculation.materials import materials
from stringerlab.report.calculation.opening import TITLE, boat, opening, scope
from stringerlab.report.calculation.pressures import pressures
from stringerlab.report.calculation.sections import sections
from stringerlab.report.calculation.told import Told
from stringerlab.report.calculation.worked import worked
from stringerlab.report.paper import Sheet, Watch, joined, pages_png, pdf

Workings = Literal["governing", "all"]

__all__ = ["TITLE", "Workings", "calculation_pages", "calculation_report", "calculation_sheet"]


def calculation_report(
    results: Results,
    *,
    workings: Workings = "governing",
    parent: Relative | None = None,
    beside: Against | bool = True,
    second_opinion: bool = False,
    watch: Watch | None = None,
) -> bytes:
    """Return a check's calculation report as PDF: the same results give the same bytes.

    Parameters
    ----------
    results
        Of a check; whole, with the mechanics and the grid.
    workings
        Clause by clause for the most used subject of each kind and aspect, or for every finding.
    parent
        The findings beside those of a parent boat, where there is one.
    beside
        Method against method: as made already, or whether to make it.
    second_opinion
        Whether every section is held against another library: some seconds each.
    watch
        Told of progress, and asked to stop: what it raises ends the work.

    Raises
    ------
    StringerlabError
        When the pages cannot be set.
    """
    tell = watch or _unwatched
    made = calculation_sheet(
        results,
        workings=workings,
        parent=parent,
        beside=beside,
        second_opinion=second_opinion,
        watch=_part(tell, 0.0, 0.6),
    )
    return pdf(
        made.markup,
        made.pictures,
        project=results.project,
        what=TITLE,
        method=results.method,
        watch=_part(tell, 0.6, 1.0),
    )


def calculation_pages(sheet: Sheet, results: Results, *, ppi: float = 96.0) -> tuple[bytes, ...]:
    """Return the pages of a report as PNG, for a preview."""
    return pages_png(
        sheet.markup, sheet.pictures, project=results.project, what=TITLE, method=results.method, ppi=ppi
    )


def calculation_sheet(
    results: Results,
    *,
    workings: Workings = "governing",
    parent: Relative | None = None,
    beside: Against | bool = True,
    second_opinion: bool = False,
    watch: Watch | None = None,
) -> Sheet:
    """Return the same report before it is set; parameters are those of `calculation_report`."""
    tell = watch or _unwatched
    told = Told(results=results)
    parts: list[Sheet | None] = []

    tell(0.0, "Particulars")
    parts += [opening(told), scope(told), boat(told)]
    tell(0.05, "Materials and laminates")
    parts += [materials(told), laminates(told)]
    tell(0.1, "Sections")
    parts.append(sections(told))
    tell(0.2, "Plan, pressures, findings")
    parts += [plan(told), pressures(told), findings(told), not_judged(told)]
    parts.append(worked(told, every=workings == "all", watch=_part(tell, 0.3, 0.6)))
    tell(0.6, "Grid and cavities")
    parts += [grid(told), cavities(told)]
    tell(0.7, "Method against method")
    compared = beside if isinstance(beside, Against) else (against(results.project) if beside else None)
    parts.append(methods_beside(told, compared) if compared is not None else None)
    parts.append(parent_beside(parent) if parent is not None else None)
    parts.append(opinions(told, _part(tell, 0.75, 1.0)) if second_opinion else no_opinions())
    parts += [sources(results.findings), signing(told)]
    tell(1.0, "Pages")
    return joined(*(part for part in parts if part is not None))


def _part(watch: Watch, begins: float, ends: float) -> Watch:
    return lambda done, what: watch(begins + (ends - begins) * done, what)


def _unwatched(fraction: float, what: str) -> None:
    del fraction, what
