"""Tests of the rules and of their pages."""
