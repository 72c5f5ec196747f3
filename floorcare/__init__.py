"""floorcare: the upkeep of hard floors, planned from measured wear.

The house has four storeys; each imports only what lies below it.

    faces/      cli, documents, feeds, intake    parse, call services, show; no rule lives here
    services/   one module per thing a person does: load, decide, save, commit, tell
    store/      rows, records in and out, the unit of work, upgrades, the surface files
    ground/     pure: contracts, crews, schedule, rules, wear, work, trade, worktime, units
    findings.py, errors.py                       at the very bottom; compose.py puts parts together

Read first: ground/trade/site.py (the records), ground/rules/catalogue.py (every rule, one line
each), services/plan_year.py (the whole program in one page).
"""

__version__ = "0.3.0"
