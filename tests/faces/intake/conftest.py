"""A small folder that is right in every file; each test spoils what it is about."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from floorcare.faces.intake.care import read_care
from floorcare.faces.intake.taken import Taken
from floorcare.findings import Finding

TODAY = date(2026, 11, 24)
SURFACES = frozenset({"polished_concrete", "terrazzo"})
RIGHT = {
    "branches.csv": "branch,name,time_zone\nNORTH,North yard,Europe/Berlin\n",
    "customers.csv": "customer,name\nHARBOUR,Harbour Markets\n",
    "sites.csv": (
        "site,customer,name,branch,time_zone\nMARKET,HARBOUR,Market hall,NORTH,Europe/Berlin\n"
    ),
    "access_windows.csv": 'site,nights,from,to,permits\nMARKET,Mo-Fr,22:00,06:00,"loud, wet"\n',
    "shut_days.csv": "site,from_on,to_on,why\nMARKET,2026-12-24,2027-01-01,stocktaking\n",
    "areas.csv": "site,area,name\nMARKET,HALL,Hall B\n",
    "zones.csv": (
        "site,zone,name,surface,area_m2,traffic,area,from_on\n"
        "MARKET,LANE,Main lane,polished_concrete,420,heavy,HALL,2025-01-01\n"
        "MARKET,EDGE,Edge,polished_concrete,80.5,light,HALL,2025-01-01\n"
    ),
    "stations.csv": "site,zone,station,note\nMARKET,LANE,P1,by the door\n",
    "traffic.csv": (
        "site,zone,kind,per_day,counted,from_on\nMARKET,LANE,foot,2150,yes,2025-01-01\n"
    ),
    "readings.csv": (
        "site,zone,station,taken_at,measure,value,state\n"
        "MARKET,LANE,P1,2026-03-02 21:40,gloss,41.2,after burnish\n"
    ),
    "treatments_done.csv": (
        "site,zone,work,done_on,known,about_days\nMARKET,LANE,recoat,2025-06-01,about,15\n"
    ),
    "routines.csv": (
        "site,zone,work,every,starts_on,performer\nMARKET,,clean,daily,2025-01-01,site team\n"
    ),
    "promises.csv": (
        "contract,site,zone,kind,starts_on,ends_on,reference_gu\n"
        "K-1,MARKET,LANE,appearance,2025-01-01,2027-12-31,52\n"
    ),
}


@dataclass
class Desk:
    """A folder under the pen."""

    path: Path

    def write(self, name: str, text: str | bytes, encoding: str = "utf-8") -> Path:
        """Put a file there, as these bytes or this text."""
        file = self.path / name
        file.write_bytes(text if isinstance(text, bytes) else text.encode(encoding))
        return file

    def add(self, name: str, *rows: str) -> None:
        """Add rows to a file that is right."""
        self.write(name, RIGHT[name] + "".join(f"{row}\n" for row in rows))

    def change(self, name: str, old: str, new: str) -> None:
        """Change one thing in a file that is right."""
        assert old in RIGHT[name]
        self.write(name, RIGHT[name].replace(old, new, 1))

    def drop(self, *names: str) -> None:
        """Take files away."""
        for name in names:
            (self.path / name).unlink()

    def read(self) -> Taken:
        """Read the folder."""
        return read_care(self.path, surfaces=SURFACES, today=TODAY)

    def findings(self) -> tuple[Finding, ...]:
        """Everything that is wrong."""
        return self.read().findings

    def one(self) -> Finding:
        """The only thing that is wrong."""
        found = self.findings()
        assert len(found) == 1, [str(each) for each in found]
        return found[0]


@pytest.fixture
def folder(tmp_path: Path) -> Desk:
    """A folder that is right."""
    desk = Desk(tmp_path)
    for name, text in RIGHT.items():
        desk.write(name, text)
    return desk


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """An empty folder."""
    return Desk(tmp_path)
