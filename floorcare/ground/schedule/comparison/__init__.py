"""Measured wear beside a fixed calendar: both lived through in the same futures."""
