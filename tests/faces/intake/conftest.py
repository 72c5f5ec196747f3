"""A small folder that is right in every file; each test spoils what it is about."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from floorcare.faces.intake.care import read_care
from floorcare.faces.intake.taken import Taken
from floorcare.findings import Finding
from floorcare.ground.trade.book import Portfolio

TODAY = date(2026, 11, 24)
SURFACES = frozenset({"polished_concrete", "terrazzo"})
MACHINE_KINDS = frozenset({"burnisher", "scrubber"})
MATERIALS = frozenset({"densifier", "protector"})
RIGHT = {
    "branches.csv": (
        "branch,name,time_zone,latitude,longitude\nNORTH,North yard,Europe/Berlin,54.1,12.1\n"
    ),
    "customers.csv": "customer,name\nHARBOUR,Harbour Markets\n",
    "sites.csv": (
        "site,customer,name,branch,time_zone,latitude,longitude\n"
        "MARKET,HARBOUR,Market hall,NORTH,Europe/Berlin,54.2,12.2\n"
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

UUID = "6f1d2c1e-7a51-4c53-9a0e-2f3b6f0c9d11"
MORE = {
    "seasons.csv": "site,name,from,to,factor\nMARKET,winter grit,11-15,03-15,2.5\n",
    "requirements.csv": "site,kind,name,each_worker\nMARKET,induction,Market induction,yes\n",
    "contacts.csv": "contact,customer,name,site\nC-1,HARBOUR,Robin Vale,MARKET\n",
    "make_up.csv": "site,zone,from_on,grit\nMARKET,LANE,2025-01-01,1500\n",
    "instruments.csv": (
        "instrument,name,measure,serial,calibrated_on,valid_to\n"
        "M-7,Gloss meter 7,gloss,70311,2025-09-01,2026-08-31\n"
        "M-8,Gloss meter 8,gloss,70312,2025-09-01,2026-08-31\n"
    ),
    "bridges.csv": "first,second,on,offset_gu,stations\nM-7,M-8,2026-02-03,-1.4,6\n",
    "contracts.csv": "contract,customer,name,currency\nK-1,HARBOUR,Market floors,EUR\n",
    "terms.csv": (
        "contract,starts_on,ends_on,our_notice_days,their_notice_days,renewal,cap_on\n"
        "K-1,2025-01-01,2027-12-31,90,60,automatic,\n"
    ),
    "fees.csv": "contract,starts_on,kind,amount\nK-1,2025-01-01,fixed monthly,1450\n",
    "exclusions.csv": (
        "contract,site,from_on,to_on,cause\nK-1,MARKET,2026-05-04,2026-05-08,burst pipe\n"
    ),
    "calls.csv": (
        "call,site,zone,kind,received_at,reported_by,text\n"
        f"{UUID},MARKET,LANE,stain,2026-09-14 08:20,Robin Vale,Oil by the door\n"
    ),
    "workers.csv": (
        "worker,name,branch\nW-1,Kim Hale,NORTH\nW-2,Ola Berg,NORTH\nW-3,Max Roth,NORTH\n"
    ),
    "travel.csv": "branch,from,to,minutes,km\nNORTH,,MARKET,28,19.5\n",
    "absences.csv": "worker,from_on,to_on,why\nW-1,2026-02-02,2026-02-13,leave\n",
    "qualifications.csv": "worker,name,from_on\nW-1,Market induction,2026-01-12\n",
    "crews.csv": "crew,branch,name\nN-1,NORTH,North one\nN-2,NORTH,North two\n",
    "crew_members.csv": (
        "crew,worker,from_on,to_on\nN-1,W-1,2025-01-01,\nN-1,W-2,2025-01-01,2025-12-31\n"
        "N-2,W-3,2025-01-01,\n"
    ),
    "shifts.csv": (
        "crew,nights,from,to,break_minutes\nN-1,Su-Th,21:30,05:30,30\nN-2,Mo-Fr,22:00,06:00,30\n"
    ),
    "machines.csv": "machine,kind,name\nB-21,burnisher,Burnisher 21\n",
    "machine_places.csv": (
        "machine,branch,site,from_on,to_on\nB-21,NORTH,,2025-01-01,2025-12-31\n"
    ),
    "machine_outages.csv": "machine,from_on,to_on\nB-21,2026-03-02,2026-03-06\n",
    "stock.csv": "branch,material,on,move,quantity\nNORTH,protector,2026-11-02,counted,38\n",
    "supplies.csv": "branch,material,pack,lead_days,reserve\nNORTH,protector,10,7,5\n",
    "rates.csv": (
        "branch,kind,amount,currency,from_on,to_on,what\n"
        "NORTH,labour hour,31.50,USD,2026-01-01,2026-12-31,\n"
    ),
    "people.csv": "person,name,role,worker\nKIM,Kim Hale,crew,W-1\n",
}
"""The files of a contractor's own: one or two rows each, right with those above."""


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
        self.write(name, (RIGHT | MORE)[name] + "".join(f"{row}\n" for row in rows))

    def change(self, name: str, old: str, new: str) -> None:
        """Change one thing in a file that is right."""
        right = (RIGHT | MORE)[name]
        assert old in right
        self.write(name, right.replace(old, new, 1))

    def drop(self, *names: str) -> None:
        """Take files away."""
        for name in names:
            (self.path / name).unlink()

    def read(self) -> Taken:
        """Read the folder."""
        return read_care(
            self.path,
            surfaces=SURFACES,
            today=TODAY,
            machine_kinds=MACHINE_KINDS,
            materials=MATERIALS,
        )

    def right(self) -> Portfolio:
        """What a folder holds that nothing is wrong with."""
        taken = self.read()
        assert [str(f) for f in taken.findings] == []
        return taken.portfolio

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
def full(folder: Desk) -> Desk:
    """A folder with every file there is, and right."""
    for name, text in MORE.items():
        folder.write(name, text)
    return folder


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """An empty folder."""
    return Desk(tmp_path)
