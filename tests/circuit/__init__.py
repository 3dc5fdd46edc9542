"""Independent tests of the circuit model."""
