"""Alembic's way from each form of the tables to the next."""
