"""Lines and regions drawn apart, put one after another as if drawn at once."""

from collections.abc import Sequence

import numpy as np

from stringerlab.geometry.lines import Lines
from stringerlab.geometry.regions import NO_REGIONS, Regions


def joined_lines(parts: Sequence[Lines]) -> Lines:
    """Return the lines of one or more parts, in their order."""
    if len(parts) == 1:
        return parts[0]
    before = np.cumsum([0, *(len(part.points) for part in parts[:-1])])
    return Lines(
        points=np.concatenate([part.points for part in parts]),
        starts=np.concatenate([part.starts + count for part, count in zip(parts, before, strict=True)]),
        counts=np.concatenate([part.counts for part in parts]),
        closed=np.concatenate([part.closed for part in parts]),
        chord=np.concatenate([part.chord for part in parts]),
        mitres=np.concatenate([part.mitres for part in parts]),
        direction=np.concatenate([part.direction for part in parts]),
        length=np.concatenate([part.length for part in parts]),
    )


def joined_regions(parts: Sequence[Regions]) -> Regions:
    """Return the regions of the parts, in their order; none of no part."""
    if len(parts) < 2:
        return parts[0] if parts else NO_REGIONS
    vertices = np.cumsum([0, *(part.points.shape[1] for part in parts)])
    paths = np.cumsum([0, *(len(part.starts) for part in parts)])
    counts = np.cumsum([0, *(part.count for part in parts)])
    return Regions(
        points=np.concatenate([part.points for part in parts], axis=1),
        starts=np.concatenate([part.starts + vertices[index] for index, part in enumerate(parts)]),
        region=np.concatenate([part.region + counts[index] for index, part in enumerate(parts)]),
        path=np.concatenate([part.path + paths[index] for index, part in enumerate(parts)]),
        sign=np.concatenate([part.sign for part in parts]),
        count=int(counts[-1]),
    )
