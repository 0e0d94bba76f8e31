"""First principles: acceleration in waves, pressure over the subject's area, plates, beams, ply failure.

No standard: loads of Savitsky and Brown with Allen and Jones, or Heller and Jasper; theory of clamped plates
and single beams; factors of safety, limits of deflection and strains of our own, named in ``source``.
"""

from stringerlab.methods.first_principles.judging_panels import judge_panels, judge_sandwiches
from stringerlab.methods.first_principles.judging_spans import MODULI, counted_plating, judge_spans
from stringerlab.methods.first_principles.loading import pressure
from stringerlab.methods.first_principles.source import AVERAGE, FACTORS, LIMITS, TITLE, Average
from stringerlab.methods.records import Method, Part

__all__ = [
    "AVERAGE",
    "FACTORS",
    "LIMITS",
    "METHOD",
    "Average",
    "judge_panels",
    "judge_sandwiches",
    "judge_spans",
]

METHOD = Method(
    id="first_principles",
    name="first principles (Savitsky and Brown, Allen and Jones)",
    edition="own",
    title=TITLE,
    superseded="",
    moduli=MODULI,
    plating=counted_plating,
    judge_panels=judge_panels,
    judge_sandwiches=judge_sandwiches,
    judge_spans=judge_spans,
    pressure=pressure,
    parts={
        Part.PRESSURE: "P",
        Part.ACCELERATION: "n_N",
        Part.AREA_FACTOR: "K_D",
        Part.LENGTH_FACTOR: "F_L",
        Part.DESIGN_STRESS: "sigma_d",
        Part.DESIGN_SHEAR: "tau_d",
    },
)
