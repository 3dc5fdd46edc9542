"""Rules about the tests of a system: each beside its page, as the rules about the wiring are."""
