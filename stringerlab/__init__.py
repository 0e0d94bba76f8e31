"""Stringer and floor sections of moulded fibreglass boats: stiffness, checks, grid."""

__version__ = "0.1.0"
