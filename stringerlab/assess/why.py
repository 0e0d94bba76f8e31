"""Why methods differ, in words made of their numbers: no sentence without a number or a record behind it."""

from collections.abc import Iterator, Sequence

from stringerlab.assess.against import Against
from stringerlab.assess.differences import CAPACITY, REST, SAME, Difference, Share
from stringerlab.laminate import Moduli
from stringerlab.methods import Aspect, Finding, Method, Part, utilisation_text
from stringerlab.units import Kind, System, format, rounded
from stringerlab.workings.nomenclature import meaning

_MODULI = {
    Moduli.PLAIN: "each ply's own modulus along the member",
    Moduli.CONTRACTED: "the laminate's moduli, free to contract across the member",
}


def short_name(method: Method) -> str:
    """Return a method's name without what stands after it in brackets or behind a comma."""
    return method.name.partition(" (")[0].partition(",")[0]


def times(factor: float) -> str:
    """Return a factor as it is read."""
    return f"{factor:.2f}" if 0.095 <= factor < 99.5 else rounded(factor, 2)


def sentence(
    of: Difference, system: System, widths: tuple[float, float] | None = None, *, whole: bool = True
) -> str:
    """Return why a method reads an aspect as it does, against the base method.

    Parameters
    ----------
    of
        The difference.
    system
        Units shown.
    widths
        Of a span: the plating [mm] that counts by the base and by the other.
    whole
        Whether to say what made the pressures differ.
    """
    if of.ratio is None or of.base is None or of.other is None:
        return " ".join(_unjudged(of))
    uses = f"{_use(of.other)} against {_use(of.base)}"
    base, other = short_name(of.base_method), short_name(of.other_method)
    if of.same:
        return f"{other} and {base} make no difference: both use {_use(of.base)}."
    clauses = list(_clauses(of, system, widths, whole=whole))
    if abs(of.ratio - 1) < SAME:
        return f"{other} comes to the same as {base} ({uses}), in another way: {'; '.join(clauses)}."
    asked = f"{other} asks for {times(of.ratio)} times what {base} does ({uses})"
    return f"{asked}: {'; '.join(clauses)}."


def subject_sentences(of: Against, subject: str, system: System, *, every: bool = True) -> tuple[str, ...]:
    """Return what differs between the methods for a subject: what governs, why, what one does not judge.

    Parameters
    ----------
    of
        The methods side by side.
    subject
        Id of a panel or span.
    system
        Units shown.
    every
        Whether every aspect has its sentence, or only those that govern.
    """
    said: list[str] = []
    governing = of.governing(subject)
    for other in range(1, len(of.methods)):
        said += _governed(of, governing, other)
        wanted = [line.aspect for line in of.of(subject)]
        if not every:
            leading = {each.aspect for each in (governing[0], governing[other]) if each is not None}
            wanted = [aspect for aspect in wanted if aspect in leading]
        told = False
        for aspect in wanted:
            found = of.difference(subject, aspect, other)
            if found.ratio is not None:
                why = sentence(found, system, _widths(of, subject, aspect, other), whole=not told)
                told = told or bool(found.behind)
                said.append(f"{_capital(aspect.value)}: {why}")
        said += _missing(of, subject, other)
    return tuple(_capital(each) for each in said)


def method_sentences(of: Against) -> tuple[str, ...]:
    """Return what differs between the methods as such, by their records."""
    base, *others = of.methods
    said = [_edition(method) for method in of.methods if method.superseded]
    ours = short_name(base)
    for other in others:
        theirs = short_name(other)
        if other.moduli is not base.moduli:
            said.append(f"{theirs} counts {_MODULI[other.moduli]}; {ours} counts {_MODULI[base.moduli]}.")
        if _evaluated(other) != _evaluated(base):
            said.append(
                f"{theirs} takes strengths {_evaluated(other)}; {ours} takes them {_evaluated(base)}."
            )
        kinds = [meaning(method.parts.get(Part.ACCELERATION, "")) for method in (other, base)]
        if all(kinds) and not (kinds[0].startswith(kinds[1]) or kinds[1].startswith(kinds[0])):
            said.append(
                f"Their accelerations are not of one kind: that of {theirs} is the {kinds[0]}; "
                f"that of {ours} the {kinds[1]}."
            )
        for has, lacks in ((base, other), (other, base)):
            parts = [part.value for part in Part if part in has.parts and part not in lacks.parts]
            if parts:
                said.append(
                    f"{short_name(has)} names {_listed(parts)} in its workings, {short_name(lacks)} does not."
                )
    return tuple(dict.fromkeys(_capital(each) for each in said))


def _use(finding: Finding) -> str:
    use = finding.utilisation
    if use is None:
        return "none"
    return utilisation_text(use) if 0.095 <= use < 99.5 else times(use)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _listed(names: Sequence[str]) -> str:
    first, last = ", ".join(names[:-1]), names[-1]
    return f"{first} and {last}" if first else last


def _edition(method: Method) -> str:
    """Return what is to be said of a method's edition, by its name where the words leave it out."""
    named = method.title and method.title in method.superseded
    words = method.superseded
    return words if named else f"{short_name(method)}: {words[:1].lower()}{words[1:]}"


def _evaluated(method: Method) -> str:
    """Return what a method makes of strengths, by what they rest on."""
    factors = method.evaluation
    if factors.bare:
        return "as the laminate has them, of tested coupons the lower bound"
    return (
        f"by its own factors: of tested coupons the least of {factors.tested:g} × mean, "
        f"mean − {factors.deviations:g} deviations and the lower bound, {factors.measured:g} × at a measured "
        f"glass content, {factors.default:g} × by default"
    )


def _unjudged(of: Difference) -> Iterator[str]:
    for method, finding in ((of.base_method, of.base), (of.other_method, of.other)):
        if finding is None:
            yield f"{short_name(method)} has no such aspect."
        elif finding.utilisation is None:
            reason = finding.notes[0] if finding.notes else "a number is missing"
            yield f"{short_name(method)} does not judge it: {reason}."
        else:
            yield f"{short_name(method)} reads {_use(finding)}."


def _clauses(
    of: Difference, system: System, widths: tuple[float, float] | None, *, whole: bool
) -> Iterator[str]:
    for share in of.shares:
        if abs(share.factor - 1) < SAME and not (share.name == Part.PRESSURE and _moved(of)):
            continue
        if share.name == Part.PRESSURE:
            yield _pressure(of, share, system, whole=whole)
        elif share.name == REST and of.base_is_loaded != of.other_is_loaded:
            ours, theirs = short_name(of.base_method), short_name(of.other_method)
            loaded, least = (ours, theirs) if of.base_is_loaded else (theirs, ours)
            yield (
                f"{least} asks a least here whatever the pressure, {loaded} what the pressure asks: "
                f"that makes {times(share.factor)} times as much"
            )
        elif share.name == REST:
            alone = len(of.shares) == 1
            rest = (
                "its form and coefficients alone ask"
                if alone
                else "the rest, its form and coefficients, asks"
            )
            yield f"{rest} {times(share.factor)} times as much"
        elif share.name == CAPACITY:
            yield _counted(share, system, widths)
        else:
            yield _stressed(share, system)
    assert of.base is not None
    assert of.other is not None
    if of.base.unit.kind is not of.other.unit.kind or of.base.power != of.other.power:
        yield f"it is measured otherwise, by {of.other.unit.kind.value} against {of.base.unit.kind.value}"
    elif of.base.governs and of.other.governs and of.base.governs != of.other.governs:
        yield f"'{of.other.governs}' governs there, not '{of.base.governs}'"


def _moved(of: Difference) -> bool:
    return any(abs(number.ratio - 1) >= SAME for number in of.behind)


def _pressure(of: Difference, share: Share, system: System, *, whole: bool) -> str:
    behind = [
        f"{number.name} {_pair(number.other, number.base, number.kind, system)}"
        for number in of.behind
        if whole and abs(number.ratio - 1) >= SAME
    ]
    by = f", by its {' and its '.join(behind)} among others" if behind else ""
    if abs(share.factor - 1) < SAME:
        made = f", though made otherwise: its {' and its '.join(behind)} among others" if behind else ""
        return f"its {share.name} is the same{made}"
    return f"its {share.name} is {times(share.factor)} times as high ({_numbers(share, system)}){by}"


def _stressed(share: Share, system: System) -> str:
    assert share.number is not None
    return (
        f"its {share.name} is {times(share.number.ratio)} times as high ({_numbers(share, system)}), "
        f"which asks {times(share.factor)} times as much"
    )


def _counted(share: Share, system: System, widths: tuple[float, float] | None) -> str:
    assert share.number is not None
    plating = ""
    if widths is not None and abs(widths[1] / widths[0] - 1) >= SAME:
        plating = f" with {_pair(widths[1], widths[0], Kind.LENGTH, system)} of plating counted"
    if abs(share.number.ratio - 1) < SAME:
        return f"what it counts as capacity asks {times(share.factor)} times as much"
    return (
        f"its capacity is {times(share.number.ratio)} times as high ({_numbers(share, system)}){plating}, "
        f"which asks {times(share.factor)} times as much"
    )


def _numbers(share: Share, system: System) -> str:
    number = share.number
    assert number is not None
    return _pair(number.other, number.base, number.kind, system)


def _pair(one: float, other: float, kind: Kind, system: System) -> str:
    """Return two quantities as ``41.2 against 25.4 kN/m²``, the unit once where it is the same."""
    first, second = format(one, kind, system, digits=3), format(other, kind, system, digits=3)
    bare, space, unit = first.rpartition(" ")
    shared = bool(space) and second.endswith(f" {unit}")
    return f"{bare if shared else first} against {second}"


def _governed(of: Against, governing: tuple[Finding | None, ...], other: int) -> Iterator[str]:
    base, theirs = governing[0], governing[other]
    if base is not None and theirs is not None and base.aspect is not theirs.aspect:
        yield (
            f"By {short_name(of.methods[other])} the {theirs.aspect.value} governs ({_use(theirs)}), "
            f"by {short_name(of.methods[0])} the {base.aspect.value} ({_use(base)})."
        )


def _missing(of: Against, subject: str, other: int) -> Iterator[str]:
    for ours, theirs in ((0, other), (other, 0)):
        reasons: dict[str, list[str]] = {}
        for line in of.of(subject):
            has, lacks = line.findings[ours], line.findings[theirs]
            if (
                has is None
                or has.utilisation is None
                or (lacks is not None and lacks.utilisation is not None)
            ):
                continue
            reason = f": {lacks.notes[0]}" if lacks is not None and lacks.notes else ""
            reasons.setdefault(reason, []).append(f"{line.aspect.value} ({_use(has)})")
        for reason, aspects in reasons.items():
            listed = " nor ".join([", ".join(aspects[:-1]), aspects[-1]] if len(aspects) > 1 else aspects)
            who, as_who = short_name(of.methods[theirs]), short_name(of.methods[ours])
            yield f"{who} does not judge {listed}, as {as_who} does{reason}."


def _widths(of: Against, subject: str, aspect: Aspect, other: int) -> tuple[float, float] | None:
    if aspect not in (Aspect.MODULUS, Aspect.STIFFNESS) or subject not in of.widths[0]:
        return None
    return of.widths[0][subject], of.widths[other][subject]
