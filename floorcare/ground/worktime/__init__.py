"""Nights a site may be worked: windows, shut days, holidays, recurrence, true lengths."""
