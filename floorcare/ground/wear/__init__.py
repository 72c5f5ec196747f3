"""Readings and footfall turned into a floor state, with its uncertainty."""
