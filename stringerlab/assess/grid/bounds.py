"""What a grid would carry if every crown cut with nothing behind it went through: the other bound."""

from dataclasses import replace

from stringerlab.assess.grid.analysing import Watch, analysed
from stringerlab.assess.grid.records import GridResults
from stringerlab.methods import Method
from stringerlab.units import Kind, format


def with_uncut_said(results: GridResults, method: Method, watch: Watch | None = None) -> GridResults:
    """Return results with the extremes of the same grid with all crowns through, and both bounds in words.

    Parameters
    ----------
    results
        Of the grid with its cut crowns turning freely; where none does they are returned as they are.
    method
        That loaded it.
    watch
        Told of progress; what it raises stops the work.
    """
    if not results.is_solved or results.beams is None or results.beams.grid.pinned is None:
        return results
    other = analysed(results.ground, method, watch, uncut=True, frequencies=False)
    if not other.is_solved:
        return results
    said: list[str] = []
    for what, of in (("crown in tension", "M_max"), ("crown in compression", "M_min")):
        worst = max(results.spans.values(), key=lambda one: abs(getattr(one, of).value))
        most = max(other.spans.values(), key=lambda one: abs(getattr(one, of).value))
        said.append(
            f"{what} at most {format(getattr(worst, of).value, Kind.MOMENT)} in {worst.name}; with every cut "
            f"crown through {format(getattr(most, of).value, Kind.MOMENT)} in {most.name}"
        )
    return replace(
        results,
        uncut=other.spans,
        notes=(
            *results.notes,
            *said,
            "cut crowns' crossings are judged under the moment there if they went through",
        ),
    )
