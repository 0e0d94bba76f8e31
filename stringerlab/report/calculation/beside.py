"""The project beside others' readings of it: method against method, and a parent boat that has held up."""

from stringerlab.assess import Against, Relative
from stringerlab.assess.relative import Beside
from stringerlab.assess.why import method_sentences, subject_sentences
from stringerlab.methods import Finding, Verdict, utilisation_text
from stringerlab.report.calculation.told import NONE, Told, named, use
from stringerlab.report.markup import heading, note, points, said, shares, table
from stringerlab.report.paper import Sheet

_LETTERS = "ABCDEFGHIJ"


def methods_beside(told: Told, of: Against) -> Sheet:
    """Return every subject's governing finding by each method, and why they differ where most is used."""
    letters = [_LETTERS[n] if n < len(_LETTERS) else str(n + 1) for n in range(len(of.methods))]
    names = [
        [letter, method.name, method.edition, method.superseded or NONE]
        for letter, method in zip(letters, of.methods, strict=True)
    ]
    parts = [
        heading("Method against method"),
        said(
            "The same panels and spans by every method of the program; the first is the base. The methods' "
            "own findings only, without the mechanics. A reading by another method is no compliance with it."
        ),
        table(["", "Method", "Edition", "Superseded"], names, shares(6, 60, 30, 80)),
    ]
    if not of.subjects:
        return Sheet(markup="\n\n".join([*parts, note("There is nothing to judge.")]))
    rows = [
        [named(of.of(subject)[0].name, subject), *map(_cell, of.governing(subject))]
        for subject in of.subjects
        if of.of(subject)
    ]
    parts += [
        heading("The most used aspect of each subject", 2),
        table(["Subject", *letters], rows, shares(50, *[25] * len(letters)), size=7),
        heading("Why they differ", 2),
        points(method_sentences(of)),
    ]
    for subject in of.worst_subjects():
        parts.append(heading(named(of.of(subject)[0].name, subject), 3))
        parts.append(points(subject_sentences(of, subject, told.system, every=False)))
    return Sheet(markup="\n\n".join(part for part in parts if part))


def parent_beside(of: Relative) -> Sheet:
    """Return the project's findings beside those of its parent boat."""
    service = of.parent.service.strip() or "nothing is told of it"
    parts = [
        heading("Relative to the parent boat"),
        said(f"Parent boat: {of.boat}. Its service: {service}"),
        *(said(remark) for remark in of.remarks),
    ]
    held = [one for one in of.besides if one.ratio is not None and one.counterpart is not None]
    held.sort(key=lambda one: -(one.ratio or 0.0))
    parts.append(
        table(
            ["Subject", "Aspect", "Kind", "Use", "Parent's", "Of parent", "Counterpart"],
            [_beside(one, alike) for one, alike in _most(held)],
            shares(46, 25, 17, 9, 12, 13, 54),
            right=(3, 4, 5),
            size=6.5,
        )
        or note("No finding could be held against the parent boat's.")
    )
    if held:
        parts.append(
            note(
                "Of each subject the finding of each kind that stands highest against the parent's; in "
                "brackets how many more of it were held against the parent boat and stand lower."
            )
        )
    without: dict[str, list[str]] = {}
    for one in of.besides:
        if one.ratio is None and one.finding.verdict is not Verdict.ADVICE:
            without.setdefault(one.reason, []).append(one.finding.subject)
    if without:
        parts += [
            heading("Not held against the parent boat, and why", 2),
            table(
                ["Why", "Findings", "Of"],
                [[why, str(len(who)), ", ".join(dict.fromkeys(who))] for why, who in without.items()],
                shares(70, 16, 90),
                right=(1,),
                size=6.8,
            ),
        ]
    if of.problems:
        parts += [heading("What keeps findings from being held against it", 2), points(map(str, of.problems))]
    return Sheet(markup="\n\n".join(part for part in parts if part))


def _most(held: list[Beside]) -> list[tuple[Beside, int]]:
    """Return of every subject and kind the first one held, and how many more there are."""
    groups: dict[tuple[str, str], list[Beside]] = {}
    for one in held:
        groups.setdefault((one.finding.subject, one.finding.kind.value), []).append(one)
    return [(group[0], len(group) - 1) for group in groups.values()]


def _beside(one: Beside, more: int) -> list[str]:
    theirs = one.counterpart
    return [
        named(one.finding.name, one.finding.subject),
        f"{one.finding.aspect.value} (+{more})" if more else one.finding.aspect.value,
        one.finding.kind.value,
        use(one.finding),
        utilisation_text(theirs.utilisation if theirs else None),
        NONE if one.ratio is None else f"{one.ratio:.2f}",
        f"{named(theirs.name, theirs.subject)}, {one.chosen}" if theirs else NONE,
    ]


def _cell(finding: Finding | None) -> str:
    if finding is None:
        return NONE
    if finding.utilisation is None:
        return finding.verdict.value
    return f"{use(finding)} {finding.aspect.value}"
