"""The rows of one book copied into another whose tables are there and empty, from either database to either."""

from sqlalchemy import func, insert, inspect, select, text
from sqlalchemy.orm import Session as Transaction

from trackread.book.database import Database
from trackread.book.schema import has_tables, make_tables
from trackread.book.tables import Base
from trackread.errors import BookError

ROWS = 500  # copied at once, so that memory does not grow with the book


def copy_rows(source: Transaction, target: Transaction) -> None:
    """Copies all rows, a table that others point to before those that do."""
    for table in Base.metadata.sorted_tables:
        rows = source.connection().execute(select(table).execution_options(yield_per=ROWS)).mappings()
        for some in rows.partitions():
            target.execute(insert(table), [dict(row) for row in some])
    count_on(target)


def count_on(target: Transaction) -> None:
    """Lets PostgreSQL give the next row a key after those that were copied; SQLite does so anyway."""
    if target.connection().dialect.name == "postgresql":
        for table in Base.metadata.sorted_tables:
            if (column := table.autoincrement_column) is not None:
                last = target.scalar(select(func.coalesce(func.max(column), 0))) or 0
                counter = text("SELECT setval(pg_get_serial_sequence(:name, :key), :next, false)")
                target.execute(counter, {"name": table.name, "key": column.name, "next": last + 1})


def fill_from(source: Database, target: Database) -> None:
    """Makes the tables of a book with the rows of another. Raises BookError if the target holds a book."""
    with source.reading() as rows, target.writing() as transaction:
        if has_tables(transaction) and not is_empty(transaction):
            raise BookError(f"{target.place} holds a production already: choose an empty database")
        make_tables(transaction)
        copy_rows(rows, transaction)


def is_empty(transaction: Transaction) -> bool:
    """Whether all tables of a book that are there have no rows."""
    there = inspect(transaction.connection()).get_table_names()
    tables = [table for table in Base.metadata.sorted_tables if table.name in there]
    return not any(transaction.execute(select(table).limit(1)).first() for table in tables)
