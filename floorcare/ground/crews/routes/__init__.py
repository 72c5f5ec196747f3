"""Tours over places: requests with alternatives in time, served by tours with their limits."""
