"""Tests of what is done on site."""
