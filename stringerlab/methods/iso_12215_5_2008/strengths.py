"""How the edition takes strengths: by test, by a measured glass content, or by its default values."""

from stringerlab.methods.evaluation import Evaluation
from stringerlab.methods.iso_12215_5_2008.source import clause
from stringerlab.workings import Known

EVALUATION = Evaluation(
    tested=0.9,
    deviations=2.0,
    measured=1.0,
    default=0.8,
    source=clause("Annex C", Known.MEMORY_M),
)
"""The lesser of 0.9 × mean and mean − 2 deviations of coupons; default values × 0.8."""
