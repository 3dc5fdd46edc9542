"""What must never be true of a wiring: the catalogue, and one rule a file."""
