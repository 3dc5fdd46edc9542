"""What is done on site, worked out from the circuit: isolation, wiring, tests, materials."""
