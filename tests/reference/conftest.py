"""Reference data too large for the repository lie in a folder beside it.

A laptop without the folder skips these checks and says so; the full run (CI set) fails instead,
so that a missing folder cannot pass for a passed check.
"""

import os
from pathlib import Path

import pytest

REPOSITORY = Path(__file__).parents[2]


@pytest.fixture(scope="session")
def reference_folder() -> Path:
    """The folder named by FLOORCARE_REFERENCE, ../shared/reference by default."""
    folder = REPOSITORY / os.environ.get("FLOORCARE_REFERENCE", "../shared/reference")
    if not folder.is_dir():
        missing = f"reference data not found at {folder}; set FLOORCARE_REFERENCE"
        if os.environ.get("CI"):
            pytest.fail(missing)
        pytest.skip(missing)
    return folder.resolve()
