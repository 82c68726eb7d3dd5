"""Keys to the server, and the browsers that have signed in with them."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    op.create_table(
        "keys",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("salt", sa.LargeBinary(), nullable=False),
        sa.Column("digest", sa.LargeBinary(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("added", sa.Text(), nullable=False),
        sa.Column("revoked", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_keys")),
    )
    op.create_table(
        "visits",
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("key", sa.Integer(), nullable=False),
        sa.Column("started", sa.Text(), nullable=False),
        sa.Column("ended", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["key"], ["keys.number"], name=op.f("fk_visits_key")),
        sa.PrimaryKeyConstraint("digest", name=op.f("pk_visits")),
    )
