"""From a complaint in plain words to the loose core, by the fewest and cheapest measurements."""
