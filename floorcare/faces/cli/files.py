"""Files out: written whole or not at all."""

import os
from pathlib import Path

from floorcare.errors import NotUnderstood


def ready_folder(folder: Path) -> Path:
    """The folder, made where it is missing.

    Raises
    ------
    NotUnderstood : it cannot be made or written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as trouble:
        raise NotUnderstood(
            f"The folder cannot be made: {trouble.strerror}. Choose one you may write to.",
            where=str(folder),
        ) from trouble
    if not folder.is_dir() or not os.access(folder, os.W_OK):
        raise NotUnderstood("This folder may not be written to. Choose another.", where=str(folder))
    return folder


def put(path: Path, content: bytes) -> Path:
    """Write a file beside its place and move it there, so that nobody ever reads half of it.

    Raises
    ------
    NotUnderstood : it cannot be written; what stood there before still stands.
    """
    beside = path.with_name(f".{path.name}.part")
    try:
        beside.write_bytes(content)
        beside.replace(path)
    except OSError as trouble:
        raise NotUnderstood(
            f"The file cannot be written: {trouble.strerror}. Free the place or choose another "
            "folder.",
            where=str(path),
        ) from trouble
    finally:
        beside.unlink(missing_ok=True)
    return path


def file_stem(*parts: str) -> str:
    """A file name made of codes and dates, with nothing in it a file system minds.

    >>> file_stem("visit-list", "North Branch", "2026-03-02")
    'visit-list-North-Branch-2026-03-02'
    """
    kept = ["".join(c if c.isalnum() or c in "-_" else "-" for c in part) for part in parts]
    return "-".join(part.strip("-") for part in kept if part.strip("-"))
