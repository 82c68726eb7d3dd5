"""Editing: what people correct in a reading is laid over it and undone, and one reading is mapped onto another."""
