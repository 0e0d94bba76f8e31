"""Project to results: resolve, judge, collect. Nothing here computes what a lower room computes."""

from stringerlab.assess.against import Against, Line, against
from stringerlab.assess.check import Cancelled, Results, check
from stringerlab.assess.differences import Difference, Share
from stringerlab.assess.live import Live, live_section
from stringerlab.assess.readings import Reading, readings
from stringerlab.assess.relative import Beside, Relative, relative, unknown_likenesses
from stringerlab.assess.sections import reference_plating, section_facts, section_properties, sound_shape

__all__ = [
    "Against",
    "Beside",
    "Cancelled",
    "Difference",
    "Line",
    "Live",
    "Reading",
    "Relative",
    "Results",
    "Share",
    "against",
    "check",
    "live_section",
    "readings",
    "reference_plating",
    "relative",
    "section_facts",
    "section_properties",
    "sound_shape",
    "unknown_likenesses",
]
