"""Where on a section each finding governs, marked by verdict with its utilisation. mm."""

from collections.abc import Sequence
from math import cos, sin

import numpy as np

from stringerlab.drawing.display import Item, Label, Mark, Role, Shape
from stringerlab.drawing.overlays import facts_of
from stringerlab.drawing.sketches import PLATING, Drawn
from stringerlab.methods import Aspect, Finding, Verdict, utilisation_text
from stringerlab.section import Plating, Properties, SectionShape
from stringerlab.section.bodies import bodies
from stringerlab.section.webs import Web, carrying, runs, webs

_GOVERNING = "governing: "
_SHAPES = {
    Verdict.HOLDS: (Role.HOLDS, Shape.CIRCLE),
    Verdict.TIGHT: (Role.TIGHT, Shape.TRIANGLE),
    Verdict.SHORT: (Role.SHORT, Shape.DIAMOND),
    Verdict.NOT_JUDGED: (Role.NOT_JUDGED, Shape.SQUARE),
    Verdict.ADVICE: (Role.NOT_JUDGED, Shape.CIRCLE),
}


def governing(
    drawn: Drawn,
    shape: SectionShape,
    plating: Plating | None,
    properties: Properties,
    findings: Sequence[Finding],
) -> list[Item]:
    """Return a mark where each finding governs, the worst of an aspect, with its utilisation in words."""
    worst: dict[Aspect, Finding] = {}
    for finding in findings:
        known = worst.get(finding.aspect)
        if known is None or (finding.utilisation or 0.0) > (known.utilisation or 0.0):
            worst[finding.aspect] = finding
    places = _Places(drawn, shape, plating, properties) if worst else None
    together: dict[tuple[float, float], list[Finding]] = {}
    for finding in worst.values():
        at = places.of(finding) if places else None
        if at is not None:
            together.setdefault((round(at[0], 6), round(at[1], 6)), []).append(finding)
    items: list[Item] = []
    for at, group in together.items():
        group.sort(key=lambda finding: -(finding.utilisation or 0.0))
        role, mark = _SHAPES[group[0].verdict]
        words = "\n".join(_words(finding) for finding in group)
        subject = group[0].subject
        align, level = _aside(at, drawn, properties)
        items.append(Mark(at=at, shape=mark, role=role, subject=subject, tip=words))
        items.append(
            Label(at=at, text=words, role=role, align=align, level=level, small=True, subject=subject)
        )
    return items


def _aside(at: tuple[float, float], drawn: Drawn, properties: Properties) -> tuple[int, int]:
    """Return where words stand beside a governing place, so that they keep off the section."""
    slack = 1e-3 * float(np.ptp([drawn.low[1], drawn.high[1]]))
    central = abs(at[0] - properties.y_na) < slack
    if central and at[1] > drawn.high[1] - slack:
        return 0, 1
    side = -1 if at[0] < properties.y_na - slack else 1
    return side, 1 if abs(at[1] - properties.z_na) < slack else 0


def _words(finding: Finding) -> str:
    if finding.utilisation is None:
        return f"{finding.aspect}: {finding.verdict}"
    return f"{finding.aspect} {utilisation_text(finding.utilisation)} {finding.verdict}"


class _Places:
    """Where on a section each aspect governs."""

    def __init__(
        self, drawn: Drawn, shape: SectionShape, plating: Plating | None, properties: Properties
    ) -> None:
        slope = plating.deadrise if plating else 0.0
        self._drawn, self._properties = drawn, properties
        self._facts = facts_of(shape, plating)
        self._along = np.array([cos(slope), sin(slope)])
        found = runs(bodies(shape, deadrise=slope), slope)
        self._webs: list[Web] = carrying(webs(found), found)

    def of(self, finding: Finding) -> tuple[float, float] | None:
        """Return the place of a finding; None where it has none on the section."""
        match finding.aspect:
            case Aspect.WEB_AREA | Aspect.WEB_SLENDERNESS:
                web = 0 if finding.aspect is Aspect.WEB_AREA else -1
                return self._web(web)
            case Aspect.CROWN_SLENDERNESS:
                return self._crown()
            case Aspect.BOND:
                return self._bond()
            case Aspect.STIFFNESS:
                width = float(self._drawn.high[0] - self._drawn.low[0])
                return float(self._drawn.high[0]) - 0.06 * width, self._properties.z_na
            case _:
                return self._fibre(finding)

    def _fibre(self, finding: Finding) -> tuple[float, float] | None:
        named = next((note for note in finding.notes if note.startswith(_GOVERNING)), "")
        name = named.removeprefix(_GOVERNING)
        for words in (name, name.rpartition(", in ")[0]):
            index = self._drawn.find(words)
            if index is not None and self._drawn.rings[index]:
                points = np.concatenate(self._drawn.rings[index])
                away = np.abs(points[:, 1] - self._properties.z_na)
                furthest = points[away >= away.max() - 1e-6]
                y, z = furthest[np.argmax(furthest[:, 0])].tolist()
                return y, z
        return None

    def _web(self, index: int) -> tuple[float, float] | None:
        if not self._webs:
            return None
        run = max(self._webs[index].runs, key=lambda run: run.length)
        middle = (complex(run.drawn[run.top]) + complex(run.drawn[run.foot])) / 2
        return middle.real, middle.imag

    def _crown(self) -> tuple[float, float] | None:
        walls = [
            ring
            for owner, group in zip(self._drawn.owners, self._drawn.rings, strict=True)
            if owner != PLATING
            for ring in group
        ]
        points = np.concatenate(walls)
        top = points[points[:, 1] >= points[:, 1].max() - 1e-6]
        return float(top[:, 0].mean()), float(top[:, 1].mean())

    def _bond(self) -> tuple[float, float] | None:
        if not self._facts.bonded:
            return None
        y, z = (self._facts.bonded[-1][1] * self._along).tolist()
        return y, z
