"""Treatments and the other kinds of work, by the trade's own words.

Source: the ladder is common practice of the trade (no published source); what a treatment does to
a given floor is data of the surface.
"""

from enum import StrEnum


class Work(StrEnum):
    """One thing to do on a zone or a site. The value is the word people see and type."""

    CLEAN = "clean"
    BURNISH = "burnish"
    FINE_BURNISH = "fine burnish"
    DEEP_SCRUB = "deep scrub"
    RECOAT = "recoat"
    REPOLISH = "re-polish"
    STRIP = "strip"
    DENSIFY = "densify"
    FULL_RESTORATION = "full restoration"
    SPOT_REPAIR = "spot repair"
    JOINT_REPAIR = "joint repair"
    READING_ROUND = "reading round"
    SLIP_TEST = "slip test"
    WALK = "walk"
    CALL = "call"


TREATMENTS: tuple[Work, ...] = (
    Work.CLEAN,
    Work.BURNISH,
    Work.FINE_BURNISH,
    Work.DEEP_SCRUB,
    Work.RECOAT,
    Work.REPOLISH,
    Work.STRIP,
    Work.DENSIFY,
    Work.FULL_RESTORATION,
    Work.SPOT_REPAIR,
    Work.JOINT_REPAIR,
)
"""The kinds of work that change a floor, mildest first within each rung of the ladder."""

LOCAL_REPAIRS: tuple[Work, ...] = (Work.SPOT_REPAIR, Work.JOINT_REPAIR)
"""Works that treat a spot or a joint, never a zone: they reset nothing and leave no rest to do."""

WHOLE_ZONE_SHARE = 0.9
"""A line that treated less than this share of a zone resets nothing (design assumption)."""
