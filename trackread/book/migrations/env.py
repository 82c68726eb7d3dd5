"""What Alembic runs to change the tables: on the connection that it is given, within its transaction."""

from alembic import context

from trackread.book.tables import Base

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Base.metadata,
    render_as_batch=True,  # SQLite changes a column by copying its table
)
with context.begin_transaction():
    context.run_migrations()
