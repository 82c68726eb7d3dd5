"""Exports: the sheets of a film's shots as bytes that other programs read."""
