"""laminate."""
