"""A second class form: plies held to limiting fractions of their ultimate stress, under an impact pressure.

The fractions, the attached plating, the least interlaminar strength and the wrinkling stress were read in a
class society's rules; the pressure is from memory. Its own ply moduli, apart in tension and compression, are
not used. Neither society nor edition is stated. No text is copied.
"""

from stringerlab.laminate.records import Moduli
from stringerlab.methods.class_limits.judging_panels import judge_panels, judge_sandwiches
from stringerlab.methods.class_limits.judging_spans import counted_plating, judge_spans
from stringerlab.methods.class_limits.loading import SERVICE, Service, design_pressure
from stringerlab.methods.class_limits.source import TITLE
from stringerlab.methods.records import Method, Part

__all__ = ["METHOD", "SERVICE", "Service", "judge_panels", "judge_sandwiches", "judge_spans"]

METHOD = Method(
    id="class_limits",
    name="class form with limiting stress fractions (special service craft)",
    edition="not stated",
    title=TITLE,
    superseded="The edition is not known: compare with the rules in force.",
    moduli=Moduli.PLAIN,
    plating=counted_plating,
    judge_panels=judge_panels,
    judge_sandwiches=judge_sandwiches,
    judge_spans=judge_spans,
    pressure=design_pressure,
    parts={
        Part.PRESSURE: "P",
        Part.ACCELERATION: "a_v",
        Part.DESIGN_STRESS: "sigma_d",
        Part.DESIGN_SHEAR: "tau_d",
    },
)
