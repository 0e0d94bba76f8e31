"""project."""
