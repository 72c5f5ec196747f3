"""Visit lists and condition tables as bytes, made from plain data."""
