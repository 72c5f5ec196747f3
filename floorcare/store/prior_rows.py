"""The tables of what fleets taught: each version's pooled values by class, and noise by surface."""

from sqlalchemy import CheckConstraint, Column, Date, Float, Table, UniqueConstraint

from floorcare.ground.trade.traffic import TrafficLevel
from floorcare.store.columns import (
    UtcInstant,
    between,
    key,
    metadata,
    number,
    of_row,
    text,
    whole,
    words,
    yes,
)

prior_version = Table(
    "prior_version",
    metadata,
    key(),
    whole("number"),
    Column("learned_on", Date, nullable=False),
    Column("made_at", UtcInstant, nullable=False),
    text("made_by"),
    UniqueConstraint("number"),
    CheckConstraint("number >= 1", name="number"),
)

prior_class = Table(
    "prior_class",
    metadata,
    key(),
    of_row("prior_version"),
    text("surface"),
    text("traffic"),
    yes("counted"),
    whole("zones"),
    number("mean_haze"),
    number("mean_rest"),
    number("sd_haze"),
    number("sd_rest"),
    number("correlation"),
    whole("hidden"),
    # The share of hidden readings inside their band; None where none was hidden.
    Column("inside", Float),
    number("band_scale"),
    UniqueConstraint("prior_version_id", "surface", "traffic", "counted"),
    words("traffic", TrafficLevel),
    CheckConstraint("zones >= 0 AND hidden >= 0", name="counts"),
    CheckConstraint("sd_haze > 0 AND sd_rest > 0", name="spread"),
    between("correlation", -1, 1),
    between("inside", 0, 1),
    CheckConstraint("band_scale > 0", name="band_scale"),
)

prior_noise = Table(
    "prior_noise",
    metadata,
    key(),
    of_row("prior_version"),
    text("surface"),
    number("first_reading_sd"),
    number("instrument_sd"),
    number("station_sd"),
    number("drift_sd"),
    number("shock_sd"),
    number("day_sd"),
    UniqueConstraint("prior_version_id", "surface"),
    CheckConstraint(
        "first_reading_sd >= 0 AND instrument_sd >= 0 AND station_sd >= 0 AND drift_sd >= 0 "
        "AND shock_sd >= 0 AND day_sd >= 0",
        name="errors",
    ),
)
