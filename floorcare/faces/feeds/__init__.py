"""iCalendar bytes, made from plain data."""
