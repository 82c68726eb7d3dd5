"""The tables of a book, the same on SQLite and PostgreSQL.

Rows are only ever added: none is deleted but visits of long ago, and none changed but for bookkeeping, which is
`StretchRow.place` and `SessionRow.numbered` (set once, when a session has been listened through), `SoundRow.path`
with `in_place` (where a recording's file lies), `KeyRow.revoked` and `VisitRow.ended` (set once). Times of day are ISO
8601 text in UTC, times in a sound are samples, `stop` not included. A channel counts from 1; 0 stands for None, since a
key cannot hold NULL.
"""

from typing import Annotated

from sqlalchemy import (
    JSON,
    BigInteger,
    CheckConstraint,
    ForeignKey,
    Index,
    LargeBinary,
    MetaData,
    String,
    Text,
    UniqueConstraint,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column

# Named by rule, so that a later migration can find each of them on either database.
NAMES = {
    "pk": "pk_%(table_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
}

Digest = Annotated[str, mapped_column(String(64))]
Large = Annotated[int, mapped_column(BigInteger)]  # a day of 96 kHz has more samples than 32 bits count
Words = Annotated[str, mapped_column(Text)]


class Base(DeclarativeBase):
    metadata = MetaData(naming_convention=NAMES)


class BookRow(Base):
    """The one row that says which book this is; `version` is that of the trackread that made it."""

    __tablename__ = "book"
    __table_args__ = (CheckConstraint("id = 1", name="one_row"),)

    id: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    uuid: Mapped[str] = mapped_column(String(36))
    created: Mapped[Words]
    version: Mapped[Words]


class DraftRow(Base):
    __tablename__ = "drafts"

    number: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    name: Mapped[Words]
    title: Mapped[Words]
    author: Mapped[Words]
    added: Mapped[Words]
    digest: Mapped[Digest]
    issued: Mapped[int]


class DraftLineRow(Base):
    __tablename__ = "draft_lines"
    __table_args__ = (UniqueConstraint("line", "draft"),)

    draft: Mapped[int] = mapped_column(ForeignKey("drafts.number"), primary_key=True, autoincrement=False)
    number: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    line: Mapped[Words]
    scene: Mapped[Words]
    character: Mapped[Words]
    text: Mapped[Words]
    source_line: Mapped[int]
    extension: Mapped[Words]
    dual: Mapped[bool]


class SoundRow(Base):
    """A recording; `path` is its file, from the folder on where it can be, with / between names."""

    __tablename__ = "sounds"

    digest: Mapped[Digest] = mapped_column(primary_key=True)
    name: Mapped[Words]
    ending: Mapped[Words]
    bytes: Mapped[Large]
    sample_rate: Mapped[int]
    length: Mapped[Large]
    channels: Mapped[int]
    start: Mapped[Large]
    path: Mapped[Words]
    in_place: Mapped[bool]
    added: Mapped[Words]


class SessionRow(Base):
    __tablename__ = "sessions"
    __table_args__ = (UniqueConstraint("digest", "channel"),)

    id: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    digest: Mapped[Digest] = mapped_column(ForeignKey("sounds.digest"))
    name: Mapped[Words]
    channel: Mapped[int]
    characters: Mapped[list[str]] = mapped_column(JSON)
    stand_in: Mapped[bool]
    notes: Mapped[dict[str, object]] = mapped_column(JSON)
    author: Mapped[Words]
    added: Mapped[Words]
    numbered: Mapped[str | None] = mapped_column(Text)


class PieceRow(Base):
    """A part of a session that has been listened through."""

    __tablename__ = "pieces"

    session: Mapped[int] = mapped_column(ForeignKey("sessions.id"), primary_key=True, autoincrement=False)
    start: Mapped[Large] = mapped_column(primary_key=True, autoincrement=False)
    stop: Mapped[Large]
    saved: Mapped[Words]


class StretchRow(Base):
    """A stretch as it was found; what people decided about it since is in the decisions."""

    __tablename__ = "stretches"
    __table_args__ = (UniqueConstraint("session", "place"), UniqueConstraint("session", "start"))

    id: Mapped[int] = mapped_column(primary_key=True)
    session: Mapped[int] = mapped_column(ForeignKey("sessions.id"))
    place: Mapped[int | None]
    start: Mapped[Large]
    stop: Mapped[Large]
    kind: Mapped[Words]
    guesses: Mapped[list[dict[str, object]]] = mapped_column(JSON)
    heard: Mapped[Words]


class NumberRow(Base):
    """A take's number among the takes of a line. Once given, it is this stretch's for good."""

    __tablename__ = "numbers"
    __table_args__ = (UniqueConstraint("stretch", "line"),)

    line: Mapped[Words] = mapped_column(primary_key=True)
    number: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    stretch: Mapped[int] = mapped_column(ForeignKey("stretches.id"))
    given: Mapped[Words]


class DecisionRow(Base):
    """What a person decided of a stretch; `line` and `wholeness` are NULL unless it makes it a take."""

    __tablename__ = "decisions"
    __table_args__ = (Index(None, "stretch"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    stretch: Mapped[int] = mapped_column(ForeignKey("stretches.id"))
    author: Mapped[Words]
    time: Mapped[Words]
    kind: Mapped[Words]
    line: Mapped[str | None] = mapped_column(Text)
    wholeness: Mapped[str | None] = mapped_column(Text)


class ReadingRow(Base):
    """What was read, under everything that it depends on; `body` is JSON, compressed by zlib."""

    __tablename__ = "readings"
    __table_args__ = (
        UniqueConstraint(
            "digest",
            "start",
            "stop",
            "channel",
            "line_digest",
            "pronunciations_digest",
            "pins_digest",
            "engine",
            name="uq_readings_key",  # PostgreSQL cuts names after 63 bytes
        ),
    )

    id: Mapped[int] = mapped_column(primary_key=True)
    digest: Mapped[Digest]
    start: Mapped[Large]
    stop: Mapped[Large]
    channel: Mapped[int]
    line_digest: Mapped[Words]
    pronunciations_digest: Mapped[Words]
    pins_digest: Mapped[Words]
    engine: Mapped[Words]
    body: Mapped[bytes] = mapped_column(LargeBinary)
    made: Mapped[Words]


class CorrectionRow(Base):
    __tablename__ = "corrections"
    __table_args__ = (UniqueConstraint("stretch", "sequence"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    stretch: Mapped[int] = mapped_column(ForeignKey("stretches.id"))
    sequence: Mapped[int]
    author: Mapped[Words]
    time: Mapped[Words]
    body: Mapped[dict[str, object]] = mapped_column(JSON)


class CutRow(Base):
    """The cut as it was from some time on; `lists` names the lists it was read from, `body` is JSON, packed by zlib."""

    __tablename__ = "cuts"

    number: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    title: Mapped[Words]
    lists: Mapped[list[str]] = mapped_column(JSON)
    what: Mapped[Words]
    author: Mapped[Words]
    added: Mapped[Words]
    body: Mapped[bytes] = mapped_column(LargeBinary)


class ShotNoteRow(Base):
    """What a person told of a shot, under its name; the newest of a kind counts."""

    __tablename__ = "shot_notes"
    __table_args__ = (Index(None, "shot"),)

    id: Mapped[int] = mapped_column(primary_key=True)
    shot: Mapped[Words]
    kind: Mapped[Words]
    author: Mapped[Words]
    time: Mapped[Words]
    body: Mapped[dict[str, object]] = mapped_column(JSON)


class BoardRow(Base):
    """The picture of a shot's board, as its file has it."""

    __tablename__ = "boards"

    digest: Mapped[Digest] = mapped_column(primary_key=True)
    name: Mapped[Words]
    body: Mapped[bytes] = mapped_column(LargeBinary)
    added: Mapped[Words]


class IssueRow(Base):
    """A sheet that was given out: `digest` is that of its PDF.

    `rests_on` says what it was made from, `snapshot` is the sheet itself as JSON, packed by zlib.
    """

    __tablename__ = "issues"
    __table_args__ = (UniqueConstraint("shot", "number"), UniqueConstraint("code"))

    id: Mapped[int] = mapped_column(primary_key=True)
    shot: Mapped[Words]
    number: Mapped[int]
    code: Mapped[Words]
    unit: Mapped[Words]
    reason: Mapped[Words]
    author: Mapped[Words]
    date: Mapped[Words]
    time: Mapped[Words]
    digest: Mapped[Digest]
    rests_on: Mapped[dict[str, object]] = mapped_column(JSON)
    snapshot: Mapped[bytes] = mapped_column(LargeBinary)


class IssuePdfRow(Base):
    """The PDF of an issue, apart from it so that it is read only when it is wanted."""

    __tablename__ = "issue_pdfs"

    issue: Mapped[int] = mapped_column(ForeignKey("issues.id"), primary_key=True, autoincrement=False)
    body: Mapped[bytes] = mapped_column(LargeBinary)


class ShootingRow(Base):
    """A count of frames shot that the floor told; `note` is the shot's note that was written with it."""

    __tablename__ = "shooting"
    __table_args__ = (UniqueConstraint("event"), Index(None, "shot"))

    id: Mapped[int] = mapped_column(primary_key=True)
    event: Mapped[str] = mapped_column(String(64))
    shot: Mapped[Words]
    issue: Mapped[int]
    count: Mapped[int]
    over: Mapped[list[str]] = mapped_column(JSON)
    author: Mapped[Words]
    unit: Mapped[Words]
    time: Mapped[Words]
    note: Mapped[int] = mapped_column(ForeignKey("shot_notes.id"))


class KeyRow(Base):
    """A key to the server: `role` and `unit` say whose pages it opens, `digest` is what scrypt makes of it with `salt`.

    `revoked` is when it was, NULL for a key that still opens.
    """

    __tablename__ = "keys"

    number: Mapped[int] = mapped_column(primary_key=True, autoincrement=False)
    role: Mapped[Words]
    name: Mapped[Words]
    unit: Mapped[Words]
    salt: Mapped[bytes] = mapped_column(LargeBinary)
    digest: Mapped[bytes] = mapped_column(LargeBinary)
    author: Mapped[Words]
    added: Mapped[Words]
    revoked: Mapped[str | None] = mapped_column(Text)


class VisitRow(Base):
    """A browser that has signed in with a key: `digest` is the SHA-256 of what its cookie holds."""

    __tablename__ = "visits"

    digest: Mapped[Digest] = mapped_column(primary_key=True)
    key: Mapped[int] = mapped_column(ForeignKey("keys.number"))
    started: Mapped[Words]
    ended: Mapped[str | None] = mapped_column(Text)
