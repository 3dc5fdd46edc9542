"""The shared circuit model: one flat circuit, all states at once."""
