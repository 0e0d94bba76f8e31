"""What a box's insulation is worth: heat through its walls for a kelvin, and the ice that heat melts.

Foam alone counts: no still air at either face, which would help by some hundredths, and no gaskets, drains or
lid joints, which let heat past. W, m², K; lengths in mm as everywhere.
"""

from dataclasses import dataclass

CONDUCTIVITY = (0.025, 0.035)
"""Of foam in W/(m·K): new and dry, and aged and damp; common practice, no source."""
ICE_HEAT = 333.6e3
"""Heat that melts ice, J/kg, as handbooks have it: 333.6 (memory H)."""
DAY = 86_400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Insulation:
    """Of a box: low with new, dry foam, high with old."""

    thickness: float
    """[mm]"""
    area: float
    """Of bottom, walls and lid together, at their inner face [mm²]."""
    u: tuple[float, float]
    """Heat through a square metre for a kelvin [W/m²K]."""
    loss: tuple[float, float]
    """Heat through all of it for a kelvin [W/K]."""


def insulation(thickness: float, area: float) -> Insulation:
    """Return what insulation all round is worth.

    Parameters
    ----------
    thickness
        Of the foam [mm], above 0.
    area
        Of all walls [mm²].
    """
    low, high = (conductivity / (thickness / 1e3) for conductivity in CONDUCTIVITY)
    return Insulation(
        thickness=thickness,
        area=area,
        u=(low, high),
        loss=(low * area / 1e6, high * area / 1e6),
    )


def ice_melted(loss: float, difference: float) -> float:
    """Return the ice that the heat through a box's walls melts in a day [kg].

    Parameters
    ----------
    loss
        Heat through all walls for a kelvin [W/K].
    difference
        How much warmer it is outside than ice [K].
    """
    return loss * difference * DAY / ICE_HEAT


__all__ = ["CONDUCTIVITY", "ICE_HEAT", "Insulation", "ice_melted", "insulation"]
