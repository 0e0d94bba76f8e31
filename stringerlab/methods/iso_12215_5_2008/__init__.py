"""ISO 12215-5:2008 form: panels and stiffeners of planing and displacement motor craft, surface by surface.

Formulas stand by topic, one function each; the ``judging`` modules bring them to bear on rows. Clauses and
figures are cited, no text is copied. The edition is superseded.
"""

from stringerlab.laminate.records import Moduli
from stringerlab.methods.iso_12215_5_2008.form import SWITCH, Switch
from stringerlab.methods.iso_12215_5_2008.judging_panels import judge_panels
from stringerlab.methods.iso_12215_5_2008.judging_sandwiches import judge_sandwiches
from stringerlab.methods.iso_12215_5_2008.judging_spans import counted_plating, judge_spans
from stringerlab.methods.iso_12215_5_2008.loading import pressure
from stringerlab.methods.iso_12215_5_2008.strengths import EVALUATION
from stringerlab.methods.records import Method, Part

__all__ = ["METHOD", "SWITCH", "Switch", "judge_panels", "judge_sandwiches", "judge_spans", "pressure"]

METHOD = Method(
    id="iso_12215_5_2008",
    name="ISO 12215-5:2008 form",
    edition="2008",
    title="ISO 12215-5:2008",
    superseded="ISO 12215-5:2008 is superseded by the editions of 2019 and 2021.",
    moduli=Moduli.PLAIN,
    plating=counted_plating,
    judge_panels=judge_panels,
    judge_sandwiches=judge_sandwiches,
    judge_spans=judge_spans,
    pressure=pressure,
    evaluation=EVALUATION,
    parts={
        Part.PRESSURE: "P",
        Part.ACCELERATION: "n_CG",
        Part.AREA_FACTOR: "k_AR",
        Part.LENGTH_FACTOR: "k_L",
        Part.DESIGN_STRESS: "sigma_d",
        Part.DESIGN_SHEAR: "tau_d",
    },
)
