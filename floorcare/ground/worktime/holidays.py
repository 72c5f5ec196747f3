"""Public holidays of a country or region, from the tables of the holidays library."""

import difflib
from collections.abc import Iterable
from datetime import date
from functools import cache


def public_holidays(country: str, region: str, years: Iterable[int]) -> dict[date, str]:
    """Public holidays with their names, in order of date.

    Parameters
    ----------
    country : ISO 3166-1 code of two letters, "" for a site that keeps no public holidays.
    region : code of a part of the country as ISO 3166-2 has it after the dash, "" for none.
    years : calendar years.

    Where a holiday falls on a weekend both it and the day it is observed on are listed. Names
    are English where the library has them.

    Raises
    ------
    ValueError : a country, region or year that is not known, naming those near it.

    Source: the holidays library, which cites each country's law.
    """
    problem = country_problem(country, region)
    if problem:
        raise ValueError(problem)
    if not country:
        return {}
    return dict(sorted(day for year in set(years) for day in _year(country, region, year)))


def known_years(country: str, years: Iterable[int]) -> tuple[int, ...]:
    """Those of some years for which the country's public holidays are known, rising.

    >>> known_years("US", [2301, 2027, 2026])
    (2026, 2027)

    Source: the span of the holidays library's table of that country.
    """
    first, last = _table_years(country)
    return tuple(sorted(year for year in set(years) if first <= year <= last))


def country_problem(country: str, region: str) -> str:
    """Why public holidays of this country and region are not known, or "".

    >>> country_problem("US", "XX")[:58]
    'region "XX" of US is not known; allowed AK, AL, AR, AS, AZ'

    Source: ISO 3166 codes as the holidays library lists them.
    """
    if not country:
        return f'region "{region}" needs a country' if region else ""
    regions = _regions().get(country)
    if regions is None:
        near = _near_countries(country)
        hint = f"did you mean {' or '.join(near)}?" if near else "write two letters such as US."
        return f'country "{country[:40]}" is not known; {hint}'
    if not region or region in regions:
        return ""
    if not regions:
        return f'region "{region[:40]}": the holidays of {country} have no regions; leave it empty'
    near = _near_regions(country, region, regions)
    hint = f"did you mean {' or '.join(near)}?" if near else f"allowed {', '.join(regions)}"
    return f'region "{region[:40]}" of {country} is not known; {hint}'


@cache
def _regions() -> dict[str, tuple[str, ...]]:
    """Regions (codes) of every country with two letters."""
    from holidays import list_supported_countries

    listed = list_supported_countries(include_aliases=False)
    return {code: tuple(regions) for code, regions in listed.items() if len(code) == 2}


def _near_regions(country: str, region: str, regions: tuple[str, ...]) -> list[str]:
    """Codes close to what was typed, by code or by the region's own name."""
    from holidays import country_holidays

    code_of = {code.casefold(): code for code in regions}
    code_of |= {n.casefold(): c for n, c in country_holidays(country).subdivisions_aliases.items()}
    typed = region.strip().casefold()[:40]
    close = [typed] if typed in code_of else difflib.get_close_matches(typed, code_of, n=3)
    return list(dict.fromkeys(code_of[key] for key in close))


def _near_countries(country: str) -> list[str]:
    """Codes close to what was typed, by code or by English name."""
    from holidays.registry import COUNTRIES

    code_of: dict[str, str] = {}
    for module, (_class, code, *others) in COUNTRIES.items():
        code_of |= {key.casefold(): code for key in (module.replace("_", " "), code, *others)}
    typed = country.strip().casefold()[:40]
    close = [typed] if typed in code_of else difflib.get_close_matches(typed, code_of, cutoff=0.75)
    return list(dict.fromkeys(code_of[key] for key in close))


@cache
def _table_years(country: str) -> tuple[int, int]:
    from holidays import country_holidays

    table = country_holidays(country)
    return table.start_year, table.end_year


@cache
def _year(country: str, region: str, year: int) -> tuple[tuple[date, str], ...]:
    from holidays import country_holidays

    first, last = _table_years(country)
    if not first <= year <= last:
        raise ValueError(
            f"public holidays of {country} are known from {first} to {last}, not for {year}"
        )
    found = country_holidays(country, subdiv=region or None, years=year, language="en_US")
    return tuple(found.items())
