"""Lighter designs: proven or found, the front of those that hold."""
