"""The pure storey: no database, file, network, clock or web."""
