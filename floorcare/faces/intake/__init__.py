"""Files in: records and findings out."""
