"""Geometry of drawn lines and areas: fillets, mitred offsets, moments by boundary integrals, overlaps."""
