"""A hat's laminate between two offsets of its tool line, as polynomials in the offset: n hats at once.

Every chord of the mitred tool line sweeps a strip whose length falls linearly with the offset d while its
middle moves linearly in z. So area, first and second moment about z = 0 of the whole hat, from the tool face
to the offset d, are polynomials of degree 2, 3 and 4 in d: summed over the chords once a hat, evaluated once
a ply. The eight chords of a fillet sum in closed form. Half the hat is summed, then doubled. mm, rad.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.geometry.chords import CHORDS
from stringerlab.geometry.lines import TOUCH
from stringerlab.workings import Array

Mask = NDArray[np.bool_]

TIE = 1e-9
"""A chord's number within this of 45° is at 45°."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Strip:
    """A hat's sizes, as `stringerlab.section.facts` measures them, and its polynomials in the offset d.

    Arrays (n,), nonsense where not ``sound``.
    """

    sound: Mask
    """Fillets fit their legs, and nothing of the laminate folds or vanishes on its far face."""
    flange_z: Array
    """The flange's tool face above the shell."""
    web_height: Array
    """Of one web with the chords of its fillets that are steeper than 45°."""
    web_length: Array
    """The same along the tool line."""
    clear_crown: Array
    """Between the far faces of the webs at their tops."""
    area: tuple[Array, Array]
    """Coefficients of d, d²."""
    first: tuple[Array, Array, Array]
    """Coefficients of d … d³."""
    second: tuple[Array, Array, Array, Array]
    """Coefficients of d … d⁴."""

    def upto(self, d: Array) -> tuple[Array, Array, Array]:
        """Area, first and second moment about z = 0 between the tool face and the offset d."""
        a1, a2 = self.area
        s1, s2, s3 = self.first
        i1, i2, i3, i4 = self.second
        return (
            d * (a1 + d * a2),
            d * (s1 + d * (s2 + d * s3)),
            d * (i1 + d * (i2 + d * (i3 + d * i4))),
        )


class _Sum:
    """Running sum of swept chords."""

    def __init__(self, rows: int) -> None:
        self.a1, self.a2 = np.zeros(rows), np.zeros(rows)
        self.s1, self.s2, self.s3 = np.zeros(rows), np.zeros(rows), np.zeros(rows)
        self.i1, self.i2, self.i3, self.i4 = np.zeros(rows), np.zeros(rows), np.zeros(rows), np.zeros(rows)

    def level(self, length: Array, loss: Array | float, z: Array) -> None:
        """Add a level chord at height z, building downward, that loses ``loss`` of its length per offset."""
        Lz, qz = length * z, loss * z
        self.a1 += length
        self.a2 -= 0.5 * loss
        self.s1 += Lz
        self.s2 -= 0.5 * (length + qz)
        self.s3 += loss / 3
        self.i1 += Lz * z
        self.i2 -= Lz + 0.5 * qz * z
        self.i3 += (length + 2 * qz) / 3
        self.i4 -= 0.25 * loss

    def chord(self, length: Array, loss: Array, a: Array, b: Array, climb: Array) -> None:
        """Add a chord whose middle is at z = a + b d and which climbs ``climb`` in z per unit length."""
        La, Lb, qa, qb = length * a, length * b, loss * a, loss * b
        c = climb * climb / 12
        cLL, cqq = c * length * length, c * loss * loss
        self.a1 += length
        self.a2 -= 0.5 * loss
        self.s1 += La
        self.s2 += 0.5 * (Lb - qa)
        self.s3 -= qb / 3
        self.i1 += La * a + cLL * length
        self.i2 += La * b - 0.5 * qa * a - 1.5 * cLL * loss
        self.i3 += (Lb * b - 2 * qa * b) / 3 + cqq * length
        self.i4 -= 0.25 * (qb * b + cqq * loss)

    def fillet(
        self, length: Array, loss: Array, z: Array, reach: Array, cosines: Array, squares: Array
    ) -> None:
        """Add a fillet's eight equal chords: chord j has a = z + reach·cos φj and b = −cos φj, climb sin φj.

        ``cosines`` and ``squares`` are Σ cos φj and Σ cos² φj.
        """
        a, aa = CHORDS * z + reach * cosines, z * (CHORDS * z + 2 * reach * cosines) + reach * reach * squares
        ab, bb = -(z * cosines + reach * squares), squares
        c = (CHORDS - squares) / 12
        cLL, cqq = c * length * length, c * loss * loss
        self.a1 += CHORDS * length
        self.a2 -= 0.5 * CHORDS * loss
        self.s1 += length * a
        self.s2 -= 0.5 * (length * cosines + loss * a)
        self.s3 += loss * cosines / 3
        self.i1 += length * aa + cLL * length
        self.i2 += length * ab - 0.5 * loss * aa - 1.5 * cLL * loss
        self.i3 += (length * bb - 2 * loss * ab) / 3 + cqq * length
        self.i4 -= 0.25 * (loss * bb + cqq * loss)

    def wedge(self, opening: Array, a: Array, b: Array, climb: Array) -> None:
        """Add (opening < 0: take away) a wedge from a point at z = a: |opening|·d long, middle at a + b d."""
        self.a2 += 0.5 * opening
        self.s2 += 0.5 * opening * a
        self.s3 += opening * b / 3
        self.i2 += 0.5 * opening * a * a
        self.i3 += 2 / 3 * opening * a * b
        self.i4 += 0.25 * opening * (b * b + opening * opening * climb * climb / 12)


def strip(
    *,
    height: Array,
    crown_width: Array,
    draft: Array,
    flange_width: Array,
    crown_radius: Array,
    root_radius: Array,
    bead: Array,
    thickness: Array,
) -> Strip:
    """Return the strips of n hats of a total laminate thickness; see `stringerlab.section.shapes.hat`."""
    sin_draft, cos_draft = np.sin(draft), np.cos(draft)
    half_chord = (0.5 * np.pi - draft) / (2 * CHORDS)
    sx, cx = np.sin(half_chord), np.cos(half_chord)
    sharp = (1 - sin_draft) / cos_draft  # tan of half the turn from flange to web
    along = sx / cx  # tan of half the turn from chord to chord
    ending = sx / (1 + cx)  # tan of half the turn from leg to chord
    cosines = cos_draft / (2 * sx)
    squares = 0.5 * CHORDS + cos_draft * sin_draft / (4 * sx * cx)

    flange_z = bead + thickness
    rise = height - flange_z
    crown_tangent, root_tangent = crown_radius * sharp, root_radius * sharp
    flange = flange_width - root_tangent
    web = rise / cos_draft - crown_tangent - root_tangent
    crown = 0.5 * crown_width - crown_tangent
    crown_filleted, root_filleted = crown_radius > 0, root_radius > 0
    crown_loss = np.where(crown_filleted, ending, sharp)
    root_gain = np.where(root_filleted, ending, sharp)
    web_loss = crown_loss - root_gain

    sound = (
        (rise > 0)
        & (flange > TOUCH)
        & (web > TOUCH)
        & (crown > TOUCH)
        & (crown - crown_loss * thickness > 0)
        & (web - web_loss * thickness > 0)
        & (~crown_filleted | ((crown_radius * cx > thickness) & (2 * sx * crown_radius > TOUCH)))
        & (~root_filleted | (2 * sx * root_radius > TOUCH))
    )

    total = _Sum(len(height))
    total.level(flange, -root_gain, flange_z)
    foot = flange_z + root_radius * (1 - sin_draft)
    total.chord(
        web,
        web_loss,
        foot + 0.5 * cos_draft * web,
        -sin_draft - 0.5 * cos_draft * (root_gain + crown_loss),
        cos_draft,
    )
    total.level(crown, crown_loss, height)

    # Fillets as if every end were cut as between two chords, then the wedges that the true ends add.
    root_q, crown_q = -2 * along * root_filleted, 2 * along * crown_filleted
    total.fillet(2 * sx * root_radius, root_q, flange_z + root_radius, -cx * root_radius, cosines, squares)
    total.fillet(2 * sx * crown_radius, crown_q, height - crown_radius, cx * crown_radius, cosines, squares)
    opening, middle = along - ending, 0.5 * (along + ending)
    root_open, crown_open = -opening * root_filleted, opening * crown_filleted
    # The chord next to the level leg climbs sx, cx along; the one next to the web by the angle sum.
    steep_sin, steep_cos = cos_draft * cx - sin_draft * sx, sin_draft * cx + cos_draft * sx
    total.wedge(root_open, flange_z, -cx - sx * middle, sx)
    total.wedge(root_open, foot, -steep_cos + steep_sin * middle, steep_sin)
    top = height - crown_radius * (1 - sin_draft)
    total.wedge(crown_open, top, -steep_cos + steep_sin * middle, steep_sin)
    total.wedge(crown_open, height, -cx - sx * middle, sx)

    # From chord number ``gentle`` on, a fillet is steeper than 45°; a chord at 45° is not.
    gentle = np.floor(np.pi / 8 / half_chord + 0.5 + TIE)
    bend = 2 * half_chord * gentle
    radii = crown_radius + root_radius
    clear = crown + np.where(
        crown_filleted, (crown_radius - thickness / cx) * np.sin(bend), -thickness * sharp
    )
    return Strip(
        sound=sound,
        flange_z=flange_z,
        web_height=web * cos_draft + radii * (np.cos(bend) - sin_draft),
        web_length=web + (CHORDS - gentle) * 2 * sx * radii,
        clear_crown=2 * clear,
        area=(2 * total.a1, 2 * total.a2),
        first=(2 * total.s1, 2 * total.s2, 2 * total.s3),
        second=(2 * total.i1, 2 * total.i2, 2 * total.i3, 2 * total.i4),
    )
