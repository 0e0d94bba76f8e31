"""Every finding by utilisation, kind by kind; what was not judged and why; readings that are only advice."""

from collections.abc import Iterable, Iterator

from stringerlab.methods import Finding, FindingKind, Verdict
from stringerlab.report.calculation.told import NONE, Told, named, use
from stringerlab.report.markup import heading, note, points, said, shares, table
from stringerlab.report.paper import Sheet

_HEAD = [
    "Subject; the place that governs",
    "Aspect",
    "Demand",
    "Capacity",
    "Use",
    "Verdict",
    "Known",
    "Src",
    "Notes",
]
_WIDTHS = shares(62, 24, 17.5, 17.5, 8, 11, 16, 6, 14)
_SHARED = 3
"""Subjects with a note alike, from which on it is listed by number."""
_OF_KIND = {
    FindingKind.RULE: "What the method itself asks for.",
    FindingKind.MECHANICS: (
        "How the part fails under the method's pressure: first principles, no part of the method."
    ),
    FindingKind.GRID: "Under load that the grid shares: first principles, never rule compliance.",
}
_LITTLE = 0.25
"""Utilisation below which findings stand together, a line a subject."""


def findings(told: Told) -> Sheet:
    """Return all that is judged, the most used first, by kind, with the notes that several share."""
    sources = _numbered(each.source for each in told.ranked)
    whose: dict[str, set[str]] = {}
    for each in told.ranked:
        for text in each.notes:
            if text.strip() and not _says_governing(text):
                whose.setdefault(text, set()).add(each.subject)
    notes = _numbered(text for text, subjects in whose.items() if len(subjects) >= _SHARED)
    parts = [
        heading("Findings by utilisation"),
        said(
            "All that is judged, the most used first. Demand and capacity are the clause's own quantity; "
            "use is the utilisation, in load. Src and Notes are numbers in the lists at the end of this "
            "part; a note of one finding alone stands with its workings."
        ),
    ]
    for kind in FindingKind:
        ranked = [each for each in told.ranked if each.kind is kind]
        if ranked:
            parts += [
                heading(f"{kind.value[0].upper()}{kind.value[1:]}", 2),
                said(_OF_KIND[kind]),
                table(
                    _HEAD,
                    [_row(told, each, sources, notes) for each in ranked if not _little(each)],
                    _WIDTHS,
                    right=(2, 3, 4, 7),
                    size=6.5,
                    bold=[n for n, each in enumerate(ranked) if each.verdict is Verdict.SHORT],
                ),
                *_used_little(told, ranked, sources, notes),
            ]
    if not told.ranked:
        parts.append(note("Nothing is judged."))
    advice = [each for each in told.results.findings if each.verdict is Verdict.ADVICE]
    if advice:
        parts += [heading("Readings that are only advice", 2), *_advice(told, advice)]
    for title, numbers in (("Sources of findings", sources), ("Notes that findings share", notes)):
        rows = [[str(number), f"{text[:1].upper()}{text[1:]}"] for text, number in numbers.items()]
        if rows:
            parts += [
                heading(title, 2),
                table(
                    ["No.", title.split(" ")[0].removesuffix("s")], rows, shares(8, 168), right=(0,), size=7
                ),
            ]
    return Sheet(markup="\n\n".join(parts))


def _little(finding: Finding) -> bool:
    return finding.utilisation is not None and finding.utilisation < _LITTLE


def _used_little(
    told: Told, ranked: list[Finding], sources: dict[str, int], notes: dict[str, int]
) -> Iterator[str]:
    """Yield a line a subject of what is used little: aspect, demand of capacity, use, mark, source, notes."""
    lines: dict[str, list[Finding]] = {}
    for each in filter(_little, ranked):
        lines.setdefault(each.subject, []).append(each)
    if not lines:
        return
    yield note(
        f"Used below {_LITTLE:.2f}, all of them hold: aspect, demand of capacity, use (known; Src; Notes)."
    )
    yield table(
        ["Subject", "Aspects"],
        [
            [
                named(found[0].name, subject),
                "; ".join(
                    f"{one.aspect.value} {told.demand(one)} of {told.capacity(one)}, {use(one)} "
                    f"({_known_of(one, sources, notes)})"
                    for one in found
                ),
            ]
            for subject, found in lines.items()
        ],
        shares(40, 136),
        size=6.5,
    )


def _known_of(finding: Finding, sources: dict[str, int], notes: dict[str, int]) -> str:
    numbers = " ".join(map(str, _notes_of(finding, notes)))
    return "; ".join(each for each in (finding.known.value, str(sources[finding.source]), numbers) if each)


def _notes_of(finding: Finding, notes: dict[str, int]) -> list[int]:
    return sorted(notes[text] for text in finding.notes if text in notes)


def not_judged(told: Told) -> Sheet:
    """Return what was not judged and why, and what is wrong with the project."""
    open_ones = [each for each in told.results.findings if each.verdict is Verdict.NOT_JUDGED]
    parts = [heading("Not judged, and why")]
    if open_ones:
        grouped: dict[tuple[str, str, str], list[Finding]] = {}
        for each in open_ones:
            why = each.notes[0] if each.notes else NONE
            grouped.setdefault((each.aspect.value, each.kind.value, why), []).append(each)
        rows = [
            [
                aspect,
                kind,
                "; ".join(named(each.name, each.subject) for each in who),
                "; ".join([why, *_common(who)]),
            ]
            for (aspect, kind, why), who in grouped.items()
        ]
        parts.append(table(["Aspect", "Kind", "Subjects", "Why"], rows, shares(22, 20, 56, 78), size=6.8))
    else:
        parts.append(said("Every aspect that the method and the mechanics have was judged."))
    if told.results.problems:
        parts += [
            heading("What is wrong with the project", 2),
            points(str(each) for each in told.results.problems),
        ]
    return Sheet(markup="\n\n".join(parts))


def _common(found: list[Finding]) -> list[str]:
    """Return the notes after the first that all of them have."""
    shared = set(found[0].notes).intersection(*(each.notes for each in found))
    return [text for text in found[0].notes[1:] if text in shared]


def _numbered(texts: Iterable[str]) -> dict[str, int]:
    return {text: number for number, text in enumerate(dict.fromkeys(texts), start=1)}


def _says_governing(note_: str) -> bool:
    return note_.startswith("governing: ")


def _row(told: Told, finding: Finding, sources: dict[str, int], notes: dict[str, int]) -> list[str]:
    who = named(finding.name, finding.subject)
    return [
        f"{who}; {finding.governs}" if finding.governs else who,
        finding.aspect.value,
        told.demand(finding),
        told.capacity(finding),
        use(finding),
        finding.verdict.value,
        finding.known.value,
        str(sources[finding.source]),
        " ".join(map(str, _notes_of(finding, notes))),
    ]


def _advice(told: Told, found: list[Finding]) -> Iterator[str]:
    """Yield the readings, and under them once what they say."""
    says = _numbered("; ".join(each.notes) for each in found)
    rows = [
        [
            named(each.name, each.subject),
            each.aspect.value,
            told.demand(each),
            told.capacity(each),
            str(says["; ".join(each.notes)]),
        ]
        for each in found
    ]
    yield table(
        ["Subject", "Aspect", "Reading", "Held against", "It says"],
        rows,
        shares(88, 34, 20, 20, 14),
        right=(2, 3, 4),
        size=6.5,
    )
    yield table(
        ["", "It says"], [[str(n), text] for text, n in says.items()], shares(8, 168), right=(0,), size=6.5
    )
