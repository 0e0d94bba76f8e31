"""Project to results: resolve, judge, collect. Nothing here computes what a lower room computes."""

from stringerlab.assess.check import Cancelled, Results, check
from stringerlab.assess.live import Live, live_section
from stringerlab.assess.readings import Reading, readings
from stringerlab.assess.sections import reference_plating, section_facts, section_properties, sound_shape

__all__ = [
    "Cancelled",
    "Live",
    "Reading",
    "Results",
    "check",
    "live_section",
    "readings",
    "reference_plating",
    "section_facts",
    "section_properties",
    "sound_shape",
]
