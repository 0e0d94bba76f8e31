"""How an area is written: polygons, each its rings (n, 2) whose first vertex is not repeated.

The outer ring comes first and counter-clockwise, then its holes clockwise. mm.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Polygon = list[Array]
Area = list[Polygon]
