"""What would help most, and one or two numbers swept."""
