"""Class-guide form for planing craft: bottom slamming, plating and internals with its own design stresses.

After the ABS guide for high-speed craft as remembered: neither edition nor clause numbers are known, and each
formula says how well it is. Only the bottom has a pressure here. No text is copied.
"""

from stringerlab.laminate.records import Moduli
from stringerlab.methods.class_guide_planing.judging_panels import judge_panels, judge_sandwiches
from stringerlab.methods.class_guide_planing.judging_spans import counted_plating, judge_spans
from stringerlab.methods.class_guide_planing.loading import pressure
from stringerlab.methods.class_guide_planing.source import TITLE
from stringerlab.methods.records import Method, Part

__all__ = ["METHOD", "judge_panels", "judge_sandwiches", "judge_spans"]

METHOD = Method(
    id="class_guide_planing",
    name="class-guide form for planing craft (ABS high-speed craft, from memory)",
    edition="from memory",
    title=TITLE,
    superseded="The edition is not known: compare with the rules in force.",
    moduli=Moduli.PLAIN,
    plating=counted_plating,
    judge_panels=judge_panels,
    judge_sandwiches=judge_sandwiches,
    judge_spans=judge_spans,
    pressure=pressure,
    parts={
        Part.PRESSURE: "P",
        Part.ACCELERATION: "n_cg",
        Part.AREA_FACTOR: "F_D",
        Part.LENGTH_FACTOR: "K_V",
        Part.DESIGN_STRESS: "sigma_d",
        Part.DESIGN_SHEAR: "tau_d",
    },
)
