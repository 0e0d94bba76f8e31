"""How far a hand lay-up usually scatters: named sets of spreads, common practice without a source.

No paper, standard or test stands behind these numbers: they are rounded from what builders say of their own
work, for want of better. A shop that weighs its laminates and breaks coupons enters its own.
"""

from collections.abc import Mapping
from types import MappingProxyType

from stringerlab.project.wishes import Law, Scatter, Scattered

PRACTICE = (
    "these spreads are common practice and have no source; weigh your own laminates, test coupons, and enter "
    "what they show"
)


def _named(spreads: Mapping[Scattered, float]) -> tuple[Scatter, ...]:
    return tuple(
        Scatter(id=f"usual {what.value}", what=what, law=_LAWS.get(what, Law.NORMAL), spread=spread)
        for what, spread in spreads.items()
    )


_LAWS = {Scattered.STRENGTH: Law.LOGNORMAL, Scattered.SPEED: Law.TRIANGULAR}
"""Strengths are never below 0; a speed has its ends. All else lies about its middle as it may."""

USUAL: Mapping[str, tuple[Scatter, ...]] = MappingProxyType(
    {
        "careful hand lay-up": _named(
            {
                Scattered.THICKNESS: 0.04,
                Scattered.GLASS: 0.04,
                Scattered.MODULUS: 0.06,
                Scattered.STRENGTH: 0.08,
                Scattered.BEAD: 0.10,
                Scattered.SPEED: 0.03,
            }
        ),
        "usual hand lay-up": _named(
            {
                Scattered.THICKNESS: 0.07,
                Scattered.GLASS: 0.07,
                Scattered.MODULUS: 0.10,
                Scattered.STRENGTH: 0.12,
                Scattered.BEAD: 0.15,
                Scattered.SPEED: 0.05,
            }
        ),
        "rough hand lay-up": _named(
            {
                Scattered.THICKNESS: 0.12,
                Scattered.GLASS: 0.11,
                Scattered.MODULUS: 0.15,
                Scattered.STRENGTH: 0.18,
                Scattered.BEAD: 0.25,
                Scattered.SPEED: 0.08,
            }
        ),
    }
)
"""Deviations as parts of the nominal value; of the speed, which is triangular, half its width."""
