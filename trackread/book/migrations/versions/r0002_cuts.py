"""Cuts, what people tell of shots, and sheets that are issued."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    op.create_table(
        "cuts",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("lists", sa.JSON(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("added", sa.Text(), nullable=False),
        sa.Column("body", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_cuts")),
    )
    op.create_table(
        "shot_notes",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("shot", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.Column("body", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shot_notes")),
    )
    op.create_index(op.f("ix_shot_notes_shot"), "shot_notes", ["shot"])
    op.create_table(
        "boards",
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("body", sa.LargeBinary(), nullable=False),
        sa.Column("added", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("digest", name=op.f("pk_boards")),
    )
    op.create_table(
        "issues",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("shot", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("date", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("rests_on", sa.JSON(), nullable=False),
        sa.Column("snapshot", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_issues")),
        sa.UniqueConstraint("code", name=op.f("uq_issues_code")),
        sa.UniqueConstraint("shot", "number", name=op.f("uq_issues_shot_number")),
    )
    op.create_table(
        "issue_pdfs",
        sa.Column("issue", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("body", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(["issue"], ["issues.id"], name=op.f("fk_issue_pdfs_issue")),
        sa.PrimaryKeyConstraint("issue", name=op.f("pk_issue_pdfs")),
    )
