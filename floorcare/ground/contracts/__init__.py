"""What was sold, reckoned with: terms and their dates, promises today, the history of a term."""
