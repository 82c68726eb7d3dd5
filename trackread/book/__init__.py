"""The production that remembers: its folder, its settings and its database."""
