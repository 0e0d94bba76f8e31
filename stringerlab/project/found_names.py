"""What is found in a layout said in words: ``Inner longitudinal, floor 2 to floor 3``."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace

from stringerlab.layout.found import Found, FoundBay, FoundSpan, Node
from stringerlab.layout.plan import Layout, MemberKind

_EDGES = {"transom": "transom", "chine": "chine", "forward": "forward edge", "keel": "keel"}
_NUMBERED = re.compile(r"(.*\D)(\d+)")


def named(found: Found, layout: Layout) -> Found:
    """Return what was found with spans and panels named in words, except those whose marks have a name."""
    words = _Words(layout)
    kept = {mark.id: mark.name for mark in (*layout.spans, *layout.bays) if mark.name}
    spans = [kept.get(span.id) or words.of_span(span, found.nodes) for span in found.spans]
    bays = [kept.get(bay.id) or words.of_bay(bay) for bay in found.bays]
    at_spans = [float(span.lines[0][:, 0].mean()) for span in found.spans]
    at_bays = [float(bay.rings[0][:, 0].mean()) for bay in found.bays]
    return replace(
        found,
        spans=tuple(
            span if span.span is None else replace(span, span=replace(span.span, name=name))
            for span, name in zip(found.spans, _distinct(spans, at_spans), strict=True)
        ),
        bays=tuple(
            bay if bay.panel is None else replace(bay, panel=replace(bay.panel, name=name))
            for bay, name in zip(found.bays, _distinct(bays, at_bays), strict=True)
        ),
    )


class _Words:
    """The words for a layout's members and edges, and which of them run which way."""

    def __init__(self, layout: Layout) -> None:
        self.name: dict[str, str] = {member.id: member.name or member.id for member in layout.members}
        self.name |= {line.id: line.name or line.id for line in layout.lines}
        across = (MemberKind.TRANSVERSE, MemberKind.BULKHEAD)
        self.across = {member.id for member in layout.members if member.kind in across}
        self.across |= {"transom", "forward"}

    def of_span(self, span: FoundSpan, nodes: tuple[Node, ...]) -> str:
        """Return a span's member, and from what to what it runs."""
        first, second = (self._end(nodes[number], span.member) for number in span.nodes[0])
        return f"{self._of(span.member)}, {_from_to(first, second)}"

    def of_bay(self, bay: FoundBay) -> str:
        """Return what a bay lies between: inboard and outboard, aft and forward."""
        beside: dict[str, list[float]] = {}
        ends: dict[str, list[float]] = {}
        for side in bay.sides:
            across = side.of in self.across
            place = (side.start[0] + side.end[0]) / 2 if across else abs(side.start[1] + side.end[1]) / 2
            (ends if across else beside).setdefault(side.of, []).append(place)
        return ", ".join(words for words in (self._between(beside), self._from_to(ends)) if words) or "Bottom"

    def _between(self, beside: Mapping[str, list[float]]) -> str:
        order = _ordered(beside)
        if not order:
            return ""
        if len(order) == 1:
            return f"Between {_inside(self._of(order[0]))}, port and starboard"
        return f"Between {_inside(self._of(order[0]))} and {_inside(self._of(order[-1]))}"

    def _from_to(self, ends: Mapping[str, list[float]]) -> str:
        order = _ordered(ends)
        if not order:
            return ""
        if len(order) == 1:
            return f"at {_inside(self._of(order[0]))}"
        return _from_to(_inside(self._of(order[0])), _inside(self._of(order[-1])))

    def _end(self, node: Node, member: str) -> str:
        others = [other for other in node.members if other != member]
        if others:
            return _inside(self._of(others[0]))
        if node.edge:
            return _EDGES[node.edge]
        key = node.key.removesuffix("'s")
        if key.endswith(":0"):
            return "its first end"
        if key.endswith(":1"):
            return "its last end"
        stretch = re.search(r"/(\d+)", key)
        return f"stretch {stretch[1]}" if stretch else "itself"

    def _of(self, what: str) -> str:
        return self.name.get(what) or _EDGES.get(what, what)


def _ordered(places: Mapping[str, list[float]]) -> list[str]:
    return sorted(places, key=lambda each: (sum(places[each]) / len(places[each]), each))


def _inside(name: str) -> str:
    """Return a name as it stands within a line: ``Floor 2`` as ``floor 2``, ``PVC web`` as it is."""
    return name[0].lower() + name[1:] if len(name) > 1 and name[1].islower() else name


def _from_to(first: str, second: str) -> str:
    """Return ``floor 2 to 3``, or both in full where they are not numbered alike."""
    one, other = _NUMBERED.fullmatch(first), _NUMBERED.fullmatch(second)
    if one and other and one[1] == other[1]:
        return f"{first} to {other[2]}"
    return f"{first} to {second}"


def _distinct(names: Iterable[str], places: Iterable[float]) -> list[str]:
    """Return names that tell apart, the second of a kind by its place."""
    seen: set[str] = set()
    found: list[str] = []
    for given, x in zip(names, places, strict=True):
        name = given if given not in seen else f"{given}, at x {x:.0f}"
        count = 2
        while name in seen:
            name = f"{given}, at x {x:.0f} ({count})"
            count += 1
        seen.add(name)
        found.append(name)
    return found
