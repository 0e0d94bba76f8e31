"""How a calculation report ends: second opinion, list of sources, boxes to sign in."""

from collections.abc import Iterator

from stringerlab.assess.second_opinion import SecondOpinion, second_opinion
from stringerlab.assess.sections import reference_plating
from stringerlab.errors import StringerlabError
from stringerlab.methods import Finding
from stringerlab.report.calculation.told import Told, named
from stringerlab.report.markup import callout, heading, note, said, shares, signatures, table
from stringerlab.report.paper import Sheet, Watch
from stringerlab.workings.source import Source


def opinions(told: Told, watch: Watch) -> Sheet:
    """Return every section's numbers beside those of another library; slow: each takes seconds."""
    resolved = told.results.resolved
    asked = [section for section in told.project.sections if section.id in resolved.shapes]
    parts = [
        heading("Second opinion"),
        said(
            "Each section on its reference plating, first-principles moduli, beside the library "
            "sectionproperties on the same regions. Differences of places are in parts of √(EI/EA). A star: "
            "there is a reason for it, said below."
        ),
    ]
    for number, section in enumerate(asked):
        words = f"Second opinion on {section.name}"
        watch(number / len(asked), words)
        parts.append(heading(named(section.name, section.id), 2))
        try:
            found = second_opinion(
                resolved.shapes[section.id],
                reference_plating(resolved, section),
                watch=lambda done, _, n=number, said_=words: watch((n + done) / len(asked), said_),
            )
        except StringerlabError as error:
            parts += [note(f"None: {problem}") for problem in error.problems]
            continue
        parts += _opinion(told, found)
    return Sheet(markup="\n\n".join(parts))


def no_opinions() -> Sheet:
    """Return that no second opinion was asked for."""
    return Sheet(
        markup="\n\n".join(
            [
                heading("Second opinion"),
                note(
                    "Not asked for in this report: sections beside another library are an option, since slow."
                ),
            ]
        )
    )


def _opinion(told: Told, found: SecondOpinion) -> Iterator[str]:
    yield table(
        ["Number", "Ours", "sectionproperties", "Difference"],
        [
            [row.name, told.show(row.ours, row.kind), told.show(row.theirs, row.kind), row.words]
            for row in found.rows
        ],
        shares(74, 38, 38, 26),
        right=(1, 2, 3),
    )
    yield from map(note, found.notes)


def sources(shown: tuple[Finding, ...]) -> Sheet:
    """Return every source that the findings rest on, with its mark and note, each once."""
    found: dict[tuple[str, str], dict[str, None]] = {}
    notes: dict[tuple[str, str], dict[str, None]] = {}
    for source in _sources(shown):
        key = (source.title, source.known.value)
        found.setdefault(key, {})[source.clause] = None
        if source.note:
            notes.setdefault(key, {})[source.note] = None
    rows = [
        [
            title,
            "; ".join(clause for clause in clauses if clause),
            known,
            "; ".join(notes.get((title, known), ())),
        ]
        for (title, known), clauses in sorted(found.items())
    ]
    return Sheet(
        markup="\n\n".join(
            part
            for part in [
                heading("Sources"),
                said(
                    "Of every formula behind the findings, with how well it is known here. Read: from the "
                    "text itself; quoted: from another who quotes it; memory: recalled without the text "
                    "at hand. Check what is from memory against the text before relying on it."
                ),
                table(
                    ["Source", "Clauses used", "Known", "Note"],
                    rows,
                    shares(52, 56, 22, 46),
                    size=7.2,
                )
                or note("Nothing was judged, so no source was used."),
            ]
        )
    )


def _sources(shown: tuple[Finding, ...]) -> Iterator[Source]:
    seen: set[int] = set()
    for finding in shown:
        for step in finding.steps:
            if id(step) not in seen:
                seen.add(id(step))
                yield step.formula.source


def signing(told: Told) -> Sheet:
    """Return boxes for the author and the reviewing naval architect."""
    paper = told.project.paper
    return Sheet(
        markup="\n\n".join(
            [
                heading("Review"),
                callout(
                    "Before signing",
                    "The reviewing naval architect answers for the choice of method and edition, for what is "
                    "from memory or estimated, and for what was not judged. This program signs nothing.",
                ),
                signatures(("Author", paper.author), ("Reviewing naval architect", paper.reviewer)),
            ]
        )
    )
