"""Cutting: cut lists become shots and placements, and two cuts are compared."""
