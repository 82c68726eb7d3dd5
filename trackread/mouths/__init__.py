"""Mouths: a kit is read and checked, and mouths are planned for frames and drawn."""
