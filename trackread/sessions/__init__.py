"""A voice session: what its recorder wrote, where somebody speaks, and of which line."""
