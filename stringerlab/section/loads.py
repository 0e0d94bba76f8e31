"""What a section carries at one place along its member: forces and moments, about its neutral point."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionLoads:
    """Forces [N] and moments [N·mm] on the face that looks at the viewer; axes y to the right, z inboard.

    ``N`` tension positive; ``V_y``, ``V_z`` along the axes; ``T`` turns y to z; ``M_y`` = ∫σ z dA puts what
    lies inboard in tension, ``M_z`` = ∫σ y dA what lies to the right.
    """

    N: float = 0.0
    V_y: float = 0.0
    V_z: float = 0.0
    T: float = 0.0
    M_y: float = 0.0
    M_z: float = 0.0
