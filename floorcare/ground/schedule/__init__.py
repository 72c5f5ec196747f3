"""Due work and nights turned into visits over the year."""
