"""A zip archive that does not say when or by whom it was made, so that the same content gives the same bytes."""

from typing import IO
from zipfile import ZipFile, ZipInfo

# The earliest date that a zip archive can hold.
NO_DATE = (1980, 1, 1, 0, 0, 0)
READABLE = 0o644 << 16


class UndatedArchive(ZipFile):
    """Files written to it have no date and nobody's rights."""

    def open(self, name: str | ZipInfo, mode: str = "r", *args: object, **options: object) -> IO[bytes]:
        if isinstance(name, ZipInfo) and mode == "w":
            name.date_time = NO_DATE
            name.external_attr = READABLE
        return super().open(name, mode, *args, **options)  # type: ignore[arg-type]
