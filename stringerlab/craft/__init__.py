"""craft."""
