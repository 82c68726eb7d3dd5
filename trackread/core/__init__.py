"""Frozen values that every room shares. No files, no numpy, no third-party imports."""
