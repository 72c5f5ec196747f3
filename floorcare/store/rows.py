"""The tables of sites, zones and what was recorded on them. Rows never leave this storey.

Planned times are the site's own date and minute, what happened is a UTC instant. Rows that hold
over some days carry from_on and to_on; a row that was replaced by a later word about the same days
is withdrawn, never deleted.
"""

from sqlalchemy import (
    CheckConstraint,
    Column,
    Date,
    Float,
    Index,
    Integer,
    Table,
    UniqueConstraint,
)

from floorcare.ground.trade.book import DateKnown
from floorcare.ground.trade.promise import Policy, PromiseKind
from floorcare.ground.trade.reading import Measure, SurfaceState
from floorcare.ground.trade.routine import Performer, Proof
from floorcare.ground.trade.traffic import PASS_WEIGHT, TrafficLevel
from floorcare.ground.trade.treatment import Work
from floorcare.ground.trade.zone import Opening
from floorcare.store.columns import (
    UtcInstant,
    between,
    entered,
    in_order,
    key,
    metadata,
    number,
    of_row,
    text,
    whole,
    words,
    yes,
)

installation = Table(
    "installation",
    metadata,
    key(),
    text("uuid"),
    text("domain"),
    Column("made_at", UtcInstant, nullable=False),
    CheckConstraint("id = 1", name="only_one"),
)

history_entry = Table(
    "history_entry",
    metadata,
    key(),
    Column("at", UtcInstant, nullable=False),
    text("who"),
    text("what"),
    text("detail"),
)

customer = Table("customer", metadata, key(), text("code"), text("name"), UniqueConstraint("code"))

branch = Table(
    "branch",
    metadata,
    key(),
    text("code"),
    text("name"),
    text("time_zone"),
    text("country"),
    text("region"),
    Column("latitude", Float),
    Column("longitude", Float),
    whole("crews"),
    whole("crew_size"),
    whole("shift_minutes"),
    text("weekdays"),
    number("reserve_share"),
    text("units"),
    text("currency"),
    # The inputs' revision: rises whenever anything a plan of this branch reads has changed.
    whole("revision"),
    Column("revised_at", UtcInstant, nullable=False),
    text("revised_by"),
    UniqueConstraint("code"),
    between("crews", 0, 500),
    between("crew_size", 1, 50),
    between("shift_minutes", 30, 960),
    between("reserve_share", 0, 0.9),
    words("units", ("metric", "US")),
)

site = Table(
    "site",
    metadata,
    key(),
    text("code"),
    of_row("customer"),
    text("name"),
    text("time_zone"),
    text("address"),
    text("country"),
    text("region"),
    Column("latitude", Float),
    Column("longitude", Float),
    text("holidays"),
    whole("notice_days"),
    text("access_note"),
    whole("version"),
    UniqueConstraint("code"),
    words("holidays", ("shut", "worked")),
)

site_branch = Table(
    "site_branch",
    metadata,
    key(),
    of_row("site"),
    of_row("branch"),
    Column("from_on", Date, nullable=False),
    Column("to_on", Date),
    Column("withdrawn_at", UtcInstant),
    UniqueConstraint("site_id", "from_on"),
)

access_window = Table(
    "access_window",
    metadata,
    key(),
    of_row("site"),
    text("weekdays"),
    whole("starts_minute"),
    whole("ends_minute"),
    text("permits"),
    Column("from_on", Date),
    Column("to_on", Date),
    UniqueConstraint("site_id", "weekdays", "starts_minute", "from_on"),
    between("starts_minute", 0, 1439),
    between("ends_minute", 0, 1440),
    in_order("from_on", "to_on"),
)

shut_day = Table(
    "shut_day",
    metadata,
    key(),
    of_row("site"),
    Column("from_on", Date, nullable=False),
    Column("to_on", Date, nullable=False),
    text("why"),
    Column("withdrawn_at", UtcInstant),
    *entered(),
    UniqueConstraint("site_id", "from_on"),
    in_order("from_on", "to_on"),
)

area = Table(
    "area",
    metadata,
    key(),
    of_row("site"),
    text("code"),
    text("name"),
    UniqueConstraint("site_id", "code"),
)

zone = Table(
    "zone",
    metadata,
    key(),
    of_row("site"),
    of_row("area", nullable=True),
    text("code"),
    text("name"),
    text("exposure"),
    text("opening"),
    Column("polished_on", Date),
    whole("about_days"),
    Column("poured_on", Date),
    text("parents"),
    whole("version"),
    UniqueConstraint("site_id", "code"),
    words("opening", Opening),
)

zone_span = Table(
    "zone_span",
    metadata,
    key(),
    of_row("zone"),
    Column("from_on", Date, nullable=False),
    Column("to_on", Date),
    text("surface"),
    Column("area_m2", Float),
    text("traffic"),
    text("place"),
    Column("withdrawn_at", UtcInstant),
    UniqueConstraint("zone_id", "from_on"),
    between("area_m2", 0.1, 1_000_000),
    words("traffic", TrafficLevel),
    in_order("from_on", "to_on"),
)

station = Table(
    "station",
    metadata,
    key(),
    of_row("zone"),
    text("code"),
    text("note"),
    UniqueConstraint("zone_id", "code"),
)

_READ_HOW = (
    "taken_on",
    "taken_minute",
    "measure",
    "geometry_deg",
    "method",
    "instrument",
    "state",
)
reading = Table(
    "reading",
    metadata,
    key(),
    of_row("zone"),
    of_row("station", nullable=True),
    Column("taken_on", Date, nullable=False),
    whole("taken_minute"),
    text("measure"),
    whole("geometry_deg"),
    text("method"),
    text("instrument"),
    text("state"),
    number("value"),
    text("reader"),
    text("witness"),
    Column("withdrawn_at", UtcInstant),
    *entered(),
    UniqueConstraint("zone_id", "station_id", *_READ_HOW, name="uq_reading_at_station"),
    between("taken_minute", 0, 1439),
    words("measure", Measure),
    words("state", SurfaceState),
)
# Two rows without a station never count as alike, so values of the whole zone have their own index.
Index(
    "uq_reading_whole_zone",
    *(reading.c[name] for name in ("zone_id", *_READ_HOW)),
    unique=True,
    sqlite_where=reading.c.station_id.is_(None),
    postgresql_where=reading.c.station_id.is_(None),
)

treatment_done = Table(
    "treatment_done",
    metadata,
    key(),
    of_row("zone"),
    text("work"),
    Column("done_on", Date, nullable=False),
    text("known"),
    whole("about_days"),
    number("share"),
    text("performer"),
    text("visit_uuid"),
    Column("withdrawn_at", UtcInstant),
    *entered(),
    UniqueConstraint("zone_id", "work", "done_on"),
    words("work", Work),
    words("known", DateKnown),
    CheckConstraint("share > 0 AND share <= 1", name="share"),
)

traffic_row = Table(
    "traffic_row",
    metadata,
    key(),
    of_row("zone"),
    text("kind"),
    Column("from_on", Date, nullable=False),
    Column("to_on", Date),
    number("per_day"),
    yes("counted"),
    Column("withdrawn_at", UtcInstant),
    *entered(),
    UniqueConstraint("zone_id", "kind", "from_on"),
    words("kind", PASS_WEIGHT),
    between("per_day", 0, 1_000_000),
    in_order("from_on", "to_on"),
)

routine = Table(
    "routine",
    metadata,
    key(),
    of_row("zone"),
    text("work"),
    Column("starts_on", Date, nullable=False),
    Column("ends_on", Date),
    text("rule"),
    text("performer"),
    text("proof"),
    text("except_on"),
    Column("minutes", Integer),
    whole("about_days"),
    yes("promised"),
    Column("withdrawn_at", UtcInstant),
    *entered(),
    UniqueConstraint("zone_id", "work", "starts_on"),
    words("work", Work),
    words("performer", Performer),
    words("proof", Proof),
)

promise_line = Table(
    "promise_line",
    metadata,
    key(),
    of_row("zone"),
    text("contract"),
    text("kind"),
    Column("starts_on", Date, nullable=False),
    Column("ends_on", Date, nullable=False),
    Column("reference_gu", Float),
    Column("reference_on", Date),
    text("reference_state"),
    number("loss_share"),
    number("confidence"),
    text("policy"),
    text("slip_method"),
    Column("slip_limit", Float),
    text("slip_place"),
    Column("response_hours", Integer),
    Column("withdrawn_at", UtcInstant),
    *entered(),
    UniqueConstraint("contract", "zone_id", "kind", "starts_on"),
    Index(None, "zone_id"),
    words("kind", PromiseKind),
    words("reference_state", SurfaceState),
    words("policy", Policy),
    in_order("starts_on", "ends_on"),
)
