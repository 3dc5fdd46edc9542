"""Tests: every claim of the handbook held against something outside it."""
