"""Starting shapes made of ordinary walls, fills and laps: one file a family, and a catalogue of them.

Arguments are as typed in a document: mm and degrees. y to the right, z from the shell's inboard face.
What a shape gives can be redrawn by hand like any other wall. Impossible numbers are refused, all at once.
"""

from stringerlab.section.shapes.brackets import chine_landing, knee
from stringerlab.section.shapes.catalogue import STARTERS, Asked, Parameter, Starter, starter
from stringerlab.section.shapes.fitting import MAX_DEADRISE, MAX_DRAFT
from stringerlab.section.shapes.floors import bulkhead_strip, flanged_floor, plate_floor
from stringerlab.section.shapes.girders import box_girder, engine_bed, keel_girder
from stringerlab.section.shapes.hats import hat, low_profile_hat
from stringerlab.section.shapes.pans import grid_pan, pan_on_hull
from stringerlab.section.shapes.records import Drawn, Laid

__all__ = [
    "MAX_DEADRISE",
    "MAX_DRAFT",
    "STARTERS",
    "Asked",
    "Drawn",
    "Laid",
    "Parameter",
    "Starter",
    "box_girder",
    "bulkhead_strip",
    "chine_landing",
    "engine_bed",
    "flanged_floor",
    "grid_pan",
    "hat",
    "keel_girder",
    "knee",
    "low_profile_hat",
    "pan_on_hull",
    "plate_floor",
    "starter",
]
