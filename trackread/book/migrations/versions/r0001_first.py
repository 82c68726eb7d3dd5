"""The tables as they were first made."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    op.create_table(
        "book",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("uuid", sa.String(length=36), nullable=False),
        sa.Column("created", sa.Text(), nullable=False),
        sa.Column("version", sa.Text(), nullable=False),
        sa.CheckConstraint("id = 1", name=op.f("ck_book_one_row")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_book")),
    )
    op.create_table(
        "drafts",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("added", sa.Text(), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("issued", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_drafts")),
    )
    op.create_table(
        "readings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("start", sa.BigInteger(), nullable=False),
        sa.Column("stop", sa.BigInteger(), nullable=False),
        sa.Column("channel", sa.Integer(), nullable=False),
        sa.Column("line_digest", sa.Text(), nullable=False),
        sa.Column("pronunciations_digest", sa.Text(), nullable=False),
        sa.Column("pins_digest", sa.Text(), nullable=False),
        sa.Column("engine", sa.Text(), nullable=False),
        sa.Column("body", sa.LargeBinary(), nullable=False),
        sa.Column("made", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_readings")),
        sa.UniqueConstraint(
            "digest",
            "start",
            "stop",
            "channel",
            "line_digest",
            "pronunciations_digest",
            "pins_digest",
            "engine",
            name="uq_readings_key",
        ),
    )
    op.create_table(
        "sounds",
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("ending", sa.Text(), nullable=False),
        sa.Column("bytes", sa.BigInteger(), nullable=False),
        sa.Column("sample_rate", sa.Integer(), nullable=False),
        sa.Column("length", sa.BigInteger(), nullable=False),
        sa.Column("channels", sa.Integer(), nullable=False),
        sa.Column("start", sa.BigInteger(), nullable=False),
        sa.Column("path", sa.Text(), nullable=False),
        sa.Column("in_place", sa.Boolean(), nullable=False),
        sa.Column("added", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("digest", name=op.f("pk_sounds")),
    )
    op.create_table(
        "draft_lines",
        sa.Column("draft", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("line", sa.Text(), nullable=False),
        sa.Column("scene", sa.Text(), nullable=False),
        sa.Column("character", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("source_line", sa.Integer(), nullable=False),
        sa.Column("extension", sa.Text(), nullable=False),
        sa.Column("dual", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["draft"], ["drafts.number"], name=op.f("fk_draft_lines_draft")),
        sa.PrimaryKeyConstraint("draft", "number", name=op.f("pk_draft_lines")),
        sa.UniqueConstraint("line", "draft", name=op.f("uq_draft_lines_line_draft")),
    )
    op.create_table(
        "sessions",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("channel", sa.Integer(), nullable=False),
        sa.Column("characters", sa.JSON(), nullable=False),
        sa.Column("stand_in", sa.Boolean(), nullable=False),
        sa.Column("notes", sa.JSON(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("added", sa.Text(), nullable=False),
        sa.Column("numbered", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["digest"], ["sounds.digest"], name=op.f("fk_sessions_digest")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sessions")),
        sa.UniqueConstraint("digest", "channel", name=op.f("uq_sessions_digest_channel")),
    )
    op.create_table(
        "pieces",
        sa.Column("session", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("start", sa.BigInteger(), autoincrement=False, nullable=False),
        sa.Column("stop", sa.BigInteger(), nullable=False),
        sa.Column("saved", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["session"], ["sessions.id"], name=op.f("fk_pieces_session")),
        sa.PrimaryKeyConstraint("session", "start", name=op.f("pk_pieces")),
    )
    op.create_table(
        "stretches",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("session", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=True),
        sa.Column("start", sa.BigInteger(), nullable=False),
        sa.Column("stop", sa.BigInteger(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("guesses", sa.JSON(), nullable=False),
        sa.Column("heard", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["session"], ["sessions.id"], name=op.f("fk_stretches_session")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stretches")),
        sa.UniqueConstraint("session", "place", name=op.f("uq_stretches_session_place")),
        sa.UniqueConstraint("session", "start", name=op.f("uq_stretches_session_start")),
    )
    op.create_table(
        "corrections",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("stretch", sa.Integer(), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.Column("body", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["stretch"], ["stretches.id"], name=op.f("fk_corrections_stretch")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_corrections")),
        sa.UniqueConstraint("stretch", "sequence", name=op.f("uq_corrections_stretch_sequence")),
    )
    op.create_table(
        "decisions",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("stretch", sa.Integer(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("time", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("line", sa.Text(), nullable=True),
        sa.Column("wholeness", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["stretch"], ["stretches.id"], name=op.f("fk_decisions_stretch")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_decisions")),
    )
    op.create_index(op.f("ix_decisions_stretch"), "decisions", ["stretch"], unique=False)
    op.create_table(
        "numbers",
        sa.Column("line", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("stretch", sa.Integer(), nullable=False),
        sa.Column("given", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["stretch"], ["stretches.id"], name=op.f("fk_numbers_stretch")),
        sa.PrimaryKeyConstraint("line", "number", name=op.f("pk_numbers")),
        sa.UniqueConstraint("stretch", "line", name=op.f("uq_numbers_stretch_line")),
    )
