"""How long members of the layout in use are as built, span by span in the skin, and what is said of it."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from stringerlab.craft import bottom
from stringerlab.layout import Span
from stringerlab.layout.lengths import lengths_of
from stringerlab.layout.plan import MemberKind
from stringerlab.project import Project, Resolved
from stringerlab.project.finding import layout_in_use
from stringerlab.project.section_shapes import member_sizes


def built_lengths(project: Project, resolved: Resolved) -> Mapping[str, float]:
    """Return the length of every found span by its id, it and its mirror image together [mm].

    Parameters
    ----------
    project, resolved
        The document, and the same with what is found in its layout in use.

    Returns
    -------
    Mapping
        Less what the member that goes through takes where two meet; none where no layout is in use, and none
        of bulkheads, which are no spans that are judged.
    """
    layout = layout_in_use(project)
    if layout is None or resolved.found is None or not resolved.found.spans:
        return {}
    lengths: defaultdict[str, float] = defaultdict(float)
    sizes = member_sizes(project, layout)
    for one in lengths_of(layout, resolved.found, bottom(project.craft), sizes):
        if one.member.kind is not MemberKind.BULKHEAD:
            lengths[one.span] += one.length
    return lengths


def length_notes(project: Project, resolved: Resolved, spans: Sequence[Span]) -> Iterator[str]:
    """Yield how members' lengths are counted, and which bulkheads are not."""
    found = () if resolved.found is None else resolved.found.spans
    drawn = {one.id for one in found}
    layout = layout_in_use(project)
    if layout is not None and drawn:
        yield (
            f"Members of layout '{layout.name}' are as long as they are built: where two meet, one goes "
            "through and the other stops at its web root; laps, tabs and end caps that are not drawn are not "
            "counted."
        )
        bulkheads = [one.name for one in layout.members if one.kind is MemberKind.BULKHEAD]
        if bulkheads:
            yield f"Bulkheads of the layout are not counted: {', '.join(bulkheads)}."
    if any(span.id not in drawn for span in spans):
        yield (
            "Members given by hand are their spans, length between supports × count: what runs on through "
            "supports, and the laps and tabs at ends and crossings that are not drawn, are not counted."
        )


__all__ = ["built_lengths", "length_notes"]
