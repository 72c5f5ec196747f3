"""The sample folder as tests read it."""

import csv
from datetime import date
from functools import lru_cache
from pathlib import Path

from floorcare.faces.intake.care import read_care
from floorcare.faces.intake.taken import Taken
from floorcare.store.surfaces import load_surfaces

FOLDER = Path(__file__).parent.parent / "sample_sites"
AS_OF = date(2026, 11, 23)


def rows(name: str) -> list[dict[str, str]]:
    """The rows of one file of the sample."""
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def key(row: dict[str, str]) -> str:
    """SITE/ZONE of a row."""
    return f"{row['site']}/{row['zone']}"


@lru_cache(maxsize=1)
def taken_sample() -> Taken:
    """The sample brought in, every code of machines and materials checked."""
    surfaces = load_surfaces()
    return read_care(
        FOLDER,
        surfaces=frozenset(surfaces),
        today=AS_OF,
        machine_kinds=frozenset(kind for s in surfaces.values() for kind in s.machines),
        materials=frozenset(code for s in surfaces.values() for code in (*s.materials, *s.tools)),
    )
