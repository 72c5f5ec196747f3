"""Fixed days: a promised rhythm that names weekdays allows no substitutions.

A contract that says "Mondays, Wednesdays and Fridays" is not kept by a Tuesday. Such a night is
neither drawn nearer to other work nor made good on another day; what cannot be done on it is named.
"""

from collections.abc import Sequence
from datetime import date

from floorcare.findings import Finding
from floorcare.ground.rules.case import ZoneCase
from floorcare.ground.trade.routine import Routine
from floorcare.ground.trade.visit import Due
from floorcare.ground.wear.books.from_books import runs_by_itself
from floorcare.ground.worktime.recurrence import Recurrence
from floorcare.ground.worktime.rule_check import rule_parts

FIXED_FACT = "no substitutions"
"""The fact of a reason whose night is the only one there is."""


def on_fixed_days(routine: Routine) -> bool:
    """Whether a routine's weekdays were promised.

    Source: city cleaning contracts forbid rearranging days ("Mon, Wed, Fri, no substitutions"),
    bidnetdirect 443403176924.
    Assumption: a promised rhythm whose rule names weekdays is such a one.
    """
    return routine.promised and "BYDAY" in rule_parts(routine.rule)


def stands_fast(due: Due) -> bool:
    """Whether a due may only be done on its own night.

    Source: the due's own reason.
    """
    return any(name == FIXED_FACT for name, _ in due.reason.facts)


def open_fixed_days(case: ZoneCase, dates: Sequence[date]) -> tuple[date, ...]:
    """Those of a promised rhythm's days to come on which the site is open; all where not known.

    Source: the site's own nights.
    """
    nights = set(case.nights)
    return tuple(on for on in dates if on > case.today and (not nights or on in nights))


def fixed_day_findings(case: ZoneCase) -> tuple[Finding, ...]:
    """Promised weekdays on which the site is not open to us: they fall out, and a person is told.

    Source: the promised rhythm held against the site's own nights.
    """
    nights = set(case.nights)
    found = []
    for routine in case.book.routines:
        if not nights or not on_fixed_days(routine) or runs_by_itself(routine):
            continue
        rule = Recurrence(
            rule=routine.rule,
            starts_on=routine.starts_on,
            ends_on=routine.ends_on,
            except_on=routine.except_on,
        )
        shut = [on for on in rule.dates(case.first_open, case.last_on) if on not in nights]
        if shut:
            found.append(
                Finding(
                    problem=f"{routine.work} of {'/'.join(case.key)} is promised on fixed days, "
                    f"and {len(shut)} of them are not open to us, the first on {shut[0]}",
                    allowed="the promised day, no substitutions",
                    mend="open those nights, or agree an exception with the customer",
                    weight="asks",
                )
            )
    return tuple(found)
