"""A treatment of a zone turned into minutes, quantities and steps."""
