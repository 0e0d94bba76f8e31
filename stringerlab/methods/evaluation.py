"""How a method takes strengths: by its own factor for what was tested, measured or taken by default. MPa.

Strengths of reinforced plies only: moduli and cores are taken as they are. What a method judges with is the
lesser of its own value and the stated rule's lower bound of tested coupons.
"""

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from stringerlab.laminate import flexural_strength, reinforced
from stringerlab.laminate.records import PlyNumbers, Role, Stack
from stringerlab.materials.coupons import CONFIDENCE, COVERAGE
from stringerlab.units import MPa, Ratio
from stringerlab.workings import Known, Source, formula, weakest
from stringerlab.workings.maths import minimum

_KEPT = 4096
_SQUARE = 1e-09
_ALONG, _ACROSS = ("tension_1", "compression_1"), ("tension_2", "compression_2")
IN_PLANE = (*_ALONG, *_ACROSS, "shear")
STRENGTHS = (*IN_PLANE, "flexural", "interlaminar")
"""Names of a ply's strengths."""
_LEVELS = Source("stringerlab", "strengths by evaluation level", Known.STATED)


class Level(StrEnum):
    """What a strength rests on."""

    COUPONS = "tested coupons"
    ENTERED = "a tested value as entered"
    MEASURED = "measured glass content"
    DEFAULT = "default values"


@formula(symbol="sigma_E", source=_LEVELS)
def tested_strength(f_E: Ratio, x_m: MPa, n_E: Ratio, s_x: MPa, sigma_b: MPa) -> MPa:
    """Strength from coupons: the method's own value, never above the stated rule's lower bound."""
    return minimum(f_E * x_m, x_m - n_E * s_x, sigma_b)


@formula(symbol="sigma_E", source=_LEVELS)
def taken_strength(f_E: Ratio, sigma_u: MPa) -> MPa:
    """Strength from an estimate, or from a tested value of which no more is known."""
    return f_E * sigma_u


@dataclass(frozen=True, slots=True, kw_only=True)
class Evaluation:
    """A method's factors on strengths by what they rest on; as they stand, none: strengths as resolved.

    Of coupons: the lesser of ``tested`` × mean and mean − ``deviations`` × deviation.
    """

    tested: float = 1.0
    deviations: float = 0.0
    measured: float = 1.0
    default: float = 1.0
    source: Source | None = None

    @property
    def bare(self) -> bool:
        """Whether it leaves strengths as they are resolved."""
        return (self.tested, self.deviations, self.measured, self.default) == (1.0, 0.0, 1.0, 1.0)

    @property
    def known(self) -> Known:
        """How well its factors are known."""
        return Known.STATED if self.source is None else self.source.known

    def factor(self, level: Level) -> float:
        """Return the factor at a level; of coupons that on their mean."""
        match level:
            case Level.COUPONS | Level.ENTERED:
                return self.tested
            case Level.MEASURED:
                return self.measured
            case Level.DEFAULT:
                return self.default

    def strength(self, ply: PlyNumbers, name: str) -> float | None:
        """Return a strength of a ply as the method takes it, None where the ply has none.

        Parameters
        ----------
        ply
            The ply; a core's and a gel coat's strengths are taken as they are.
        name
            One of ``STRENGTHS``.
        """
        value: float | None = getattr(ply, name)
        if value is None or ply.role is not Role.REINFORCED:
            return value
        for one in ply.coupons:
            if one.name == name:
                return float(
                    tested_strength.clause(
                        self.tested, one.mean, self.deviations, one.deviation, sigma_b=one.value
                    )
                )
        return float(taken_strength.clause(self.factor(level_of(ply, name)), value))

    def judged(self, stack: Stack) -> Stack:
        """Return a laminate with its plies' strengths as the method takes them, and marked so."""
        return stack if self.bare else _judged(stack, self)

    def flexural(self, stack: Stack) -> tuple[float, Known]:
        """Return a laminate's flexural strength as the method takes it [MPa]; nan where it has none.

        By the fit on all plies together, the level is the lowest of its plies'.
        """
        if self.bare or _flexural_is_tested(stack):
            return flexural_strength(self.judged(stack))
        value, known = flexural_strength(stack)
        if math.isnan(value):
            return value, known
        factor = min(self.factor(level) for level in self.flexural_levels(stack))
        return float(taken_strength.clause(factor, value)), weakest((known, self.known))

    def flexural_levels(self, stack: Stack) -> frozenset[Level]:
        """Return what a laminate's flexural strength rests on; by the fit, the level of the least factor."""
        found = _levels(stack, ("flexural",))
        if not found or _flexural_is_tested(stack):
            return found
        return frozenset({min(found, key=self.factor)})

    def words(self, level: Level) -> str:
        """Return what is to be said of findings that rest on a level; empty for nothing."""
        if self.bare:
            return f"tested strengths: {_BOUND}; moduli are the mean" if level is Level.COUPONS else ""
        said = {
            Level.COUPONS: (
                f"tested strengths: the least of {self.tested:g} × mean, "
                f"mean − {self.deviations:g} deviations and {_BOUND}"
            ),
            Level.ENTERED: f"tested strengths without a known deviation × {self.tested:g}, as of a mean",
            Level.MEASURED: (
                f"strengths estimated at a glass content measured, or given for the ply, × {self.measured:g}"
            ),
            Level.DEFAULT: f"strengths by default values × {self.default:g}",
        }[level]
        source = "" if self.source is None else f": {self.source}, {self.source.known}"
        return f"evaluation: {said}; moduli as they are{source}"


AS_RESOLVED = Evaluation()
"""No factors of a method's own: strengths as they are resolved."""
_BOUND = f"the lower bound of {COVERAGE:.0%} at {CONFIDENCE:.0%} confidence".replace("%", " %")


def level_of(ply: PlyNumbers, name: str) -> Level:
    """Return what a strength of a reinforced ply rests on.

    A tested value is one only when it is marked as tested: a data sheet's or a remembered one is a default.
    """
    if any(one.name == name for one in ply.coupons):
        return Level.COUPONS
    if name in ply.tested:
        return Level.ENTERED if dict(ply.marks).get(name) is Known.TESTED else Level.DEFAULT
    return Level.MEASURED if ply.glass_measured else Level.DEFAULT


def direct_levels(stack: Stack) -> frozenset[Level]:
    """Return what a laminate's tensile and compressive strengths along x rest on."""
    return frozenset(
        level_of(ply, name)
        for ply in reinforced(stack)
        for name in _direct_names(ply)
        if getattr(ply, name) is not None
    )


def interlaminar_levels(stack: Stack) -> frozenset[Level]:
    """Return what a laminate's interlaminar strengths rest on."""
    return _levels(stack, ("interlaminar",))


def shear_levels(stack: Stack) -> frozenset[Level]:
    """Return what a laminate's in-plane shear strength, at its first ply to fail, rests on."""
    return _levels(stack, IN_PLANE)


def _levels(stack: Stack, names: Sequence[str]) -> frozenset[Level]:
    return frozenset(
        level_of(ply, name) for ply in reinforced(stack) for name in names if getattr(ply, name) is not None
    )


def _direct_names(ply: PlyNumbers) -> tuple[str, ...]:
    if abs(math.sin(ply.angle)) < _SQUARE:
        return _ALONG
    return _ACROSS if abs(math.cos(ply.angle)) < _SQUARE else IN_PLANE


def _flexural_is_tested(stack: Stack) -> bool:
    return any("flexural" in ply.tested for ply in stack.plies)


@lru_cache(maxsize=_KEPT)
def _judged(stack: Stack, evaluation: Evaluation) -> Stack:
    return Stack(name=stack.name, plies=tuple(_judged_ply(ply, evaluation) for ply in stack.plies))


@lru_cache(maxsize=_KEPT)
def _judged_ply(ply: PlyNumbers, evaluation: Evaluation) -> PlyNumbers:
    if ply.role is not Role.REINFORCED:
        return ply
    taken = {name: evaluation.strength(ply, name) for name in STRENGTHS}
    marks = tuple(
        (name, weakest((known, evaluation.known)) if name in STRENGTHS else known)
        for name, known in ply.marks
    )
    return dataclasses.replace(
        ply,
        marks=marks,
        tension_1=taken["tension_1"],
        compression_1=taken["compression_1"],
        tension_2=taken["tension_2"],
        compression_2=taken["compression_2"],
        shear=taken["shear"],
        flexural=taken["flexural"],
        interlaminar=taken["interlaminar"],
    )
