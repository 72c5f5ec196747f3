"""A reading round as plain words, laid out afterwards by the page and the printed sheet.

The sheet is blind: no reading, no estimate, no promise, and not why a zone was chosen.
"""

from floorcare.faces.documents import wording
from floorcare.ground.trade.zone import spoken_name
from floorcare.services.choose_rounds import RoundSheet, RoundSite, RoundZone

Plain = dict[str, object]

HOW = (
    "Read the floor clean and dry, at the marks, and write every value before looking anything up. "
    "Write the meter's angle as it is set, and whether the floor was cleaned or burnished last."
)


def answer(sheet: RoundSheet) -> str:
    """The round in one sentence."""
    budget = f"{sheet.budget_minutes} min"
    if not sheet.sites:
        if sheet.left:
            first = sheet.zone_minutes + sheet.site_minutes
            return f"No zone fits into {budget}; the first takes {first} min."
        if sheet.read_anyway:
            return "Planned visits read every zone by then."
        return "No zone has a promised look, so none is read."
    zones = wording.count(len(sheet.zones), "zone")
    sites = wording.count(len(sheet.sites), "site")
    left = f"{wording.count(len(sheet.left), 'zone')} left unread" if sheet.left else "none left"
    return f"{zones} at {sites} to read by {wording.day_words(sheet.by)}, " + (
        f"{sheet.minutes} of {budget}; {left}."
    )


def as_text(sheet: RoundSheet) -> Plain:
    """Everything the blind sheet says, as nested dicts, lists and strings."""
    by = wording.day_words(sheet.by)
    zones = wording.count(len(sheet.zones), "zone")
    sites = wording.count(len(sheet.sites), "site")
    return {
        "title": f"Reading round, {sheet.branch}: by {by}",
        "heading": sheet.branch,
        "when": f"Reading round by {by}",
        "answer": wording.bound(f"{zones} at {sites} to read by {by}; {sheet.minutes} min."),
        "as_of": f"Chosen on {wording.day_words(sheet.on)}",
        "how": HOW,
        "sites": [_site(site) for site in sheet.sites],
    }


def _site(site: RoundSite) -> Plain:
    return {
        "site": site.site,
        "site_name": site.site_name,
        "where": ". ".join(filter(None, (site.address, site.access_note))),
        "minutes": wording.bound(f"{site.minutes} min"),
        "zones": [_zone(zone) for zone in site.zones],
    }


def _zone(zone: RoundZone) -> Plain:
    return {
        "zone": zone.zone,
        "name": spoken_name(zone.area_name, zone.zone_name),
        "usual": f"usually read at {zone.geometry_deg}°",
        "stations": [
            {"station": station.code or str(number), "note": station.note}
            for number, station in enumerate(zone.stations, start=1)
        ],
    }
