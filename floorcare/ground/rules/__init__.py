"""Which work is due, and why."""
