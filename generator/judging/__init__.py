"""Recipes held against the rules, in every combination they have."""
