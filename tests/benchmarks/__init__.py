"""Figures printed on request; never part of a test run."""
