"""Counts of frames that the floor tells."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    op.create_table(
        "shooting",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("event", sa.String(length=64), nullable=False),
        sa.Column("shot", sa.Text(), nullable=False),
        sa.Column("issue", sa.Integer(), nullable=False),
        sa.Column("count", sa.Integer(), nullable=False),
        sa.Column("over", sa.JSON(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.Column("note", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["note"], ["shot_notes.id"], name=op.f("fk_shooting_note")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shooting")),
        sa.UniqueConstraint("event", name=op.f("uq_shooting_event")),
    )
    op.create_index(op.f("ix_shooting_shot"), "shooting", ["shot"])
