"""What a backup is: a zip of a production's files, with a manifest that has the SHA-256 of each.

    manifest.json   {"format": 1, "made": …, "by": …, "files": {name: SHA-256}}; the last one written
    production.toml, book.sqlite, sounds/ab/…, pronunciations.txt and kits/… where there are any

Recordings are stored as they are, since sound hardly gets smaller; sizes may pass 4 GB (ZIP64).
"""

import hashlib
import json
import re
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path

from trackread.book.book import FILE, SOUNDS
from trackread.book.settings import SETTINGS
from trackread.errors import BookError

MANIFEST = "manifest.json"
FORMAT = 1
# What else belongs to a production though it is no part of the book.
BESIDE = ("pronunciations.txt",)
KITS = "kits"  # a folder of kits of mouths, with the pictures of those

# Nothing else is unpacked, wherever a zip says that it belongs.
NAME = re.compile(
    rf"{re.escape(SETTINGS)}|{re.escape(FILE)}|{'|'.join(map(re.escape, BESIDE))}"
    rf"|{KITS}(/(?!\.)[^/\\\\\x00-\x1f]+)+"
    rf"|{SOUNDS}/[0-9a-f]{{2}}/[0-9a-f]{{64}}(\.[A-Za-z0-9]{{1,8}})?"
)


def put(archive: zipfile.ZipFile, name: str, blocks: Iterable[bytes]) -> str:
    """Puts a file into the zip, and gives its SHA-256."""
    entry = zipfile.ZipInfo(name)
    entry.compress_type = zipfile.ZIP_STORED if name.startswith(SOUNDS) else zipfile.ZIP_DEFLATED
    digest = hashlib.sha256()
    with archive.open(entry, "w", force_zip64=True) as file:
        for block in blocks:
            digest.update(block)
            file.write(block)
    return digest.hexdigest()


def put_manifest(archive: zipfile.ZipFile, digests: Mapping[str, str], *, made: str, by: str) -> None:
    manifest = {"format": FORMAT, "made": made, "by": by, "files": dict(digests)}
    put(archive, MANIFEST, [json.dumps(manifest, indent=1).encode()])


def digests_in(archive: zipfile.ZipFile, file: Path) -> dict[str, str]:
    """The SHA-256 of each file in a backup. Raises BookError if it is no backup that can be unpacked."""
    try:
        manifest = json.loads(archive.read(MANIFEST))
        form, digests = manifest["format"], dict(manifest["files"])
    except (KeyError, TypeError, ValueError) as error:
        raise BookError(f"{file} is no backup of a production: its {MANIFEST} is missing or damaged") from error
    if form != FORMAT:
        raise BookError(f"{file} was written by a newer trackread: update trackread")
    if strange := [name for name in digests if not NAME.fullmatch(name)]:
        raise BookError(f"{file} is no backup of a production: {strange[0]!r} is no part of one")
    if missing := [
        name for name in (SETTINGS, FILE, *digests) if name not in digests or name not in archive.NameToInfo
    ]:
        raise BookError(f"{file} is no whole backup: {missing[0]} is missing")
    return digests
