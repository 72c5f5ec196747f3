"""Small invented folders of care for the command line's tests: two sites, three zones."""

from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path

TODAY = date(2026, 11, 23)
TODAY_TEXT = TODAY.isoformat()


def _rounds() -> str:
    """Two years of quarterly rounds of two stations, falling between recoats."""
    rows = ["site,zone,station,taken_at,measure,value,state"]
    for quarter, value in enumerate((57.5, 54.0, 51.0, 56.5, 53.5, 50.5, 48.0, 46.5)):
        on = date(2025, 1, 13) + timedelta(days=91 * quarter)
        for station, off in (("P1", 0.6), ("P2", -0.4)):
            rows.append(
                f"MARKET,LANE,{station},{on.isoformat()} 21:40,gloss,{value + off:.1f},"
                "after burnish"
            )
    return "\n".join(rows) + "\n"


TWO_SITES: Mapping[str, str] = {
    "branches.csv": (
        "branch,name,time_zone,crews,crew_size,shift_minutes,nights,latitude,longitude\n"
        "NORTH,North yard,Europe/Berlin,6,2,480,daily,54.1,12.1\n"
    ),
    "customers.csv": "customer,name\nHARBOUR,Harbour Markets\n",
    "sites.csv": (
        "site,customer,name,branch,time_zone,address,notice_days,access_note,latitude,longitude\n"
        "MARKET,HARBOUR,Market hall,NORTH,Europe/Berlin,12 Quay Street,7,"
        "ring at the gatehouse,54.2,12.2\n"
        "SCHOOL,HARBOUR,Harbour school,NORTH,Europe/Berlin,3 Mole Lane,14,,54.0,12.0\n"
    ),
    "access_windows.csv": (
        "site,nights,from,to,permits\n"
        'MARKET,daily,22:00,06:00,"loud, wet, dust"\n'
        'SCHOOL,Mo-Fr,18:00,23:30,"loud, wet"\n'
    ),
    "shut_days.csv": "site,from_on,to_on,why\nMARKET,2026-12-24,2027-01-01,stocktaking\n",
    "areas.csv": "site,area,name\nMARKET,HALL,Hall B\nSCHOOL,AULA,Assembly hall\n",
    "zones.csv": (
        "site,area,zone,name,surface,area_m2,traffic,from_on,opening,polished_on\n"
        "MARKET,HALL,LANE,Main lane,polished_concrete,420,heavy,2024-12-01,fresh,2024-12-01\n"
        "MARKET,HALL,EDGE,Edge,polished_concrete,80.5,light,2024-12-01,fresh,2024-12-01\n"
        "SCHOOL,AULA,AULA,Assembly hall,polished_concrete,300,moderate,2024-12-01,unknown,\n"
    ),
    "stations.csv": (
        "site,zone,station,note\nMARKET,LANE,P1,by the door\nMARKET,LANE,P2,by the stair\n"
    ),
    "traffic.csv": (
        "site,zone,kind,per_day,counted,from_on\nMARKET,LANE,foot,2150,yes,2024-12-01\n"
    ),
    "readings.csv": _rounds(),
    "treatments_done.csv": (
        "site,zone,work,done_on,known,about_days\n"
        "MARKET,LANE,recoat,2025-10-01,known,\n"
        "SCHOOL,AULA,recoat,2026-03-15,about,15\n"
    ),
    "routines.csv": (
        "site,zone,work,every,starts_on,performer,proof\n"
        "MARKET,,clean,daily,2024-12-01,site team,reported\n"
        'MARKET,LANE,burnish,"Tu,Fr",2024-12-03,us,confirmed\n'
        "MARKET,LANE,reading round,every 6 weeks,2026-11-02,us,confirmed\n"
        "MARKET,EDGE,recoat,every 8 weeks,2026-10-07,us,confirmed\n"
        "SCHOOL,,clean,daily,2024-12-01,site team,reported\n"
        "SCHOOL,AULA,recoat,every 12 weeks,2026-10-06,us,confirmed\n"
    ),
    "promises.csv": (
        "contract,site,zone,kind,starts_on,ends_on,reference_gu,policy\n"
        "K-1,MARKET,LANE,appearance,2024-12-01,2028-12-31,58,gentlest\n"
    ),
}

FIVE_COLUMNS = (
    "site,what,every,last done about,minutes\n"
    "Market hall,recoat,every 6 months,June 2026,300\n"
    "Market hall,reading round,every 3 months,2026-09-01,40\n"
    "College,burnish,every 4 weeks,2026-11-12,90\n"
)


def make_folder(folder: Path, changed: Mapping[str, str | bytes] | None = None) -> Path:
    """The two sites' folder, with some files written otherwise."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in {**TWO_SITES, **(changed or {})}.items():
        content = text if isinstance(text, bytes) else text.encode("utf-8")
        (folder / name).write_bytes(content)
    return folder


def with_row(name: str, row: str) -> dict[str, str]:
    """The file of that name with one row more."""
    return {name: TWO_SITES[name] + row + "\n"}


def altered(name: str, old: str, new: str) -> dict[str, str]:
    """The file of that name with one thing written otherwise."""
    assert old in TWO_SITES[name]
    return {name: TWO_SITES[name].replace(old, new, 1)}
