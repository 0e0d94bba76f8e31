"""assess."""
