"""Rows, records in and out, the unit of work, upgrades."""
