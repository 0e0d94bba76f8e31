"""Where the paper lies under the screen: millimetres to pixels and back, zoom, pan and fit. No Qt.

The paper's y runs to the right and z up, in mm; the screen's x to the right and y down, in pixels.
"""

from dataclasses import dataclass, replace
from typing import Self

Place = tuple[float, float]

LEAST, MOST = 0.02, 2000.0
"""Pixels a millimetre: 10 m fill 200 px; half a micrometre is a pixel."""
MARGIN = 0.14
"""Part of the screen that stays free all round when a drawing is fitted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """``scale`` pixels a millimetre, and the pixel at which y = z = 0 lies."""

    scale: float = 2.0
    left: float = 0.0
    down: float = 0.0

    def to_screen(self, place: Place) -> Place:
        """Return the pixel of a place in mm."""
        return self.left + place[0] * self.scale, self.down - place[1] * self.scale

    def to_paper(self, pixel: Place) -> Place:
        """Return the place in mm of a pixel."""
        return (pixel[0] - self.left) / self.scale, (self.down - pixel[1]) / self.scale

    def length(self, pixels: float) -> float:
        """Return how many mm so many pixels are."""
        return pixels / self.scale

    def panned(self, right: float, down: float) -> Self:
        """Return the view with the paper moved by so many pixels."""
        return replace(self, left=self.left + right, down=self.down + down)

    def zoomed(self, factor: float, pixel: Place) -> Self:
        """Return the view enlarged about a pixel, whose place stays where it is."""
        scale = min(max(self.scale * factor, LEAST), MOST)
        grown = scale / self.scale
        return replace(
            self,
            scale=scale,
            left=pixel[0] + (self.left - pixel[0]) * grown,
            down=pixel[1] + (self.down - pixel[1]) * grown,
        )

    def fitted(self, bounds: tuple[float, float, float, float], size: Place) -> Self:
        """Return the view in which bounds (y, z, y, z) fill a screen of a size, with a margin."""
        width, height = max(bounds[2] - bounds[0], 1.0), max(bounds[3] - bounds[1], 1.0)
        room = 1 - 2 * MARGIN
        scale = min(max(min(size[0] * room / width, size[1] * room / height), LEAST), MOST)
        middle = (bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2
        return replace(
            self,
            scale=scale,
            left=size[0] / 2 - middle[0] * scale,
            down=size[1] / 2 + middle[1] * scale,
        )

    def fitted_beside(self, bounds: tuple[float, float, float, float], size: Place, corner: Place) -> Self:
        """Return the view in which bounds fill what a thing in the lower left corner leaves of a screen.

        The bounds come above it or to the right of it, whichever shows them larger.
        """
        above = self.fitted(bounds, (size[0], max(size[1] - corner[1], 1.0)))
        right = self.fitted(bounds, (max(size[0] - corner[0], 1.0), size[1])).panned(corner[0], 0.0)
        return above if above.scale >= right.scale else right

    def window(self, size: Place) -> tuple[float, float, float, float]:
        """Return least y, least z, greatest y, greatest z of what a screen of a size shows."""
        low, high = self.to_paper((0.0, size[1])), self.to_paper((size[0], 0.0))
        return low[0], low[1], high[0], high[1]
