"""Tests of how recipes are judged, in every combination they have."""
