"""Drawings as text: where every part, terminal and core stands on the sheet."""
