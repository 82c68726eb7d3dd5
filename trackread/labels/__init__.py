"""Marks on a recording, by people or by the reading: TextGrids in and out, and one set against another."""
