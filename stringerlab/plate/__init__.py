"""Orthotropic plates: bending, natural frequency and buckling of panels and of a section's parts."""
