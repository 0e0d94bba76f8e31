"""Sizing in words and numbers as a person reads them: how large a space is, what was seen, what differs."""

from dataclasses import dataclass
from math import isnan, nan

from stringerlab.project.wishes import Aim, SizingPlan
from stringerlab.sizing.records import Design, Sized
from stringerlab.sizing.searching.aims import aims_of, mix_of
from stringerlab.units import Kind, System, display_unit, format, money, rounded, trimmed
from stringerlab.units.writing import power_of_ten

NOTHING = "—"
NEAREST = (
    "The present boat is none of these designs; the choices nearest to her stand for her here, and "
    "differences are from those."
)
_GROUPED_BELOW = 10**9
"""Counts below it are written out, in groups of three."""
AIM_WORDS = {
    Aim.MASS: "mass",
    Aim.COST: "cost",
    Aim.LABOUR: "labour",
    Aim.USE: "highest utilisation",
    Aim.MIX: "weighted mix",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How numbers are shown: units and currency."""

    system: System = System.METRIC
    currency: str = ""

    def mass(self, value: float) -> str:
        """Return a mass [kg] as it is read."""
        return format(value, Kind.MASS, self.system)

    def cost(self, value: float | None) -> str:
        """Return a cost; a dash where nothing is priced."""
        return NOTHING if value is None or isnan(value) else money(value, self.currency)

    def hours(self, value: float | None) -> str:
        """Return hours; a dash where no rate is set."""
        return NOTHING if value is None or isnan(value) else f"{rounded(value, 3)} h"

    def use(self, value: float) -> str:
        """Return a utilisation."""
        return f"{value:.3f}"

    def of(self, aim: Aim, value: float) -> str:
        """Return what an aim lowers, as it is read."""
        match aim:
            case Aim.MASS:
                return self.mass(value)
            case Aim.COST:
                return self.cost(value)
            case Aim.LABOUR:
                return self.hours(value)
            case Aim.MIX:
                return rounded(value)
            case Aim.USE:
                return self.use(value)

    def factor(self, aim: Aim) -> float:
        """Return what a value of an aim is divided by to stand on an axis."""
        return display_unit(Kind.MASS, self.system).factor if aim is Aim.MASS else 1.0

    def title(self, aim: Aim) -> str:
        """Return what stands along an axis."""
        symbol = {
            Aim.MASS: display_unit(Kind.MASS, self.system).symbol,
            Aim.COST: self.currency,
            Aim.LABOUR: "h",
        }.get(aim, "")
        words = AIM_WORDS[aim]
        return f"{words} ({symbol})" if symbol else words


def grouped(count: int) -> str:
    """Return a count as it is read: 4 320, or 3·10³⁰ where nobody reads the digits."""
    if count < _GROUPED_BELOW:
        return f"{count:,}".replace(",", "\N{NARROW NO-BREAK SPACE}")
    digits = str(count)
    exponent = len(digits) - 1
    mantissa = round(int(digits[:3]) / 100, 1)
    if mantissa >= 10:
        mantissa, exponent = 1.0, exponent + 1
    return power_of_ten(trimmed(mantissa, 2), exponent)


def designs_words(count: int) -> str:
    """Return a count of designs."""
    return f"{grouped(count)} design{'' if count == 1 else 's'}"


def space_words(count: int, *, whole: bool) -> str:
    """Return how large a space is, and whether all of it can be judged within the budget."""
    if whole:
        every = "it will be judged" if count == 1 else "every one will be judged or ruled out"
        return f"{designs_words(count)}: {every}"
    return f"{designs_words(count)}: searched, not proven"


def seen_words(sized: Sized) -> str:
    """Return how much of the space was seen, and whether the best is proven or found."""
    judged = grouped(sized.judged)
    if sized.proven:
        if sized.ruled_out:
            how = f"{judged} judged, {grouped(sized.ruled_out)} ruled out by bounds"
        else:
            how = "every one judged"
        better = "no better one is among them" if sized.front else "none of them holds"
        return f"Proven: of {designs_words(sized.space)}, {how}; {better}."
    if sized.front:
        return (
            f"Found, not proven: {judged} of {designs_words(sized.space)} judged; better ones may be among "
            "the rest."
        )
    return (
        f"None found, which is no proof: {judged} of {designs_words(sized.space)} judged; one that holds "
        "may be among the rest."
    )


def boat_words(sized: Sized) -> str:
    """Return what the first of the designs shown is called: the boat, or the choices nearest to her."""
    return "The choices nearest to the present boat" if is_nearest(sized) else "The present boat"


def is_nearest(sized: Sized) -> bool:
    """Whether the choices nearest to the boat stand for her, as her own numbers are not known."""
    return not sized.present_exact and sized.boat is None


def axes_of(plan: SizingPlan) -> tuple[Aim, Aim]:
    """Return what runs across and up: the first two aims; beside a single one, the other of mass and use."""
    aims = aims_of(plan)
    first = aims[0]
    if len(aims) > 1:
        return first, aims[1]
    return first, Aim.MASS if first is Aim.USE else Aim.USE


def value_of(design: Design, aim: Aim, plan: SizingPlan) -> float:
    """Return what an aim lowers, nan where it is not known."""
    mix = mix_of(design.mass, design.cost, design.hours, plan.weights) if aim is Aim.MIX else nan
    return design.value(aim, mix)


def holds(design: Design) -> bool:
    """Whether every demand holds of a design."""
    return all(ratio <= 1.0 + 1e-12 for ratio in design.ratios)


def change_words(before: float | None, after: float | None, written: str) -> str:
    """Return by how much a number differs: ``3.2 kg less (−8 %)``; empty where it is not known."""
    if before is None or after is None or isnan(before) or isnan(after):
        return ""
    if abs(after - before) <= 1e-9 * max(abs(before), 1.0):
        return "as now"
    way = "less" if after < before else "more"
    part = f" ({100 * (after - before) / before:+.1f} %)".replace("-", "−") if before else ""
    return f"{written} {way}{part}"


def differences(sized: Sized, design: Design, look: Look) -> tuple[str, ...]:
    """Return in words what a design changes of the present boat, and what comes of it."""
    now = sized.now
    changed = [
        f"{name[:1].upper()}{name[1:]}: {before} → {after}"
        for name, before, after in zip(sized.names, now.values, design.values, strict=True)
        if before != after
    ]
    if changed and any(one.kept or one.ended for one in sized.plan.laminates):
        changed.append("Of plies, those that stay are not named")
    amounts = [
        ("Mass", now.mass, design.mass, look.mass),
        ("Cost", now.cost, design.cost, look.cost),
        ("Labour", now.hours, design.hours, look.hours),
        ("Highest utilisation", now.use, design.use, look.use),
    ]
    comes = [
        f"{name} {written(after)}: {words}"
        for name, before, after, written in amounts
        if before is not None
        and after is not None
        and (words := change_words(before, after, written(abs(after - before))))
    ]
    return (*(changed or ["Nothing is changed of the boat"]), *comes)
