"""Parts one by one, on a bench, against published and common-practice tables."""
