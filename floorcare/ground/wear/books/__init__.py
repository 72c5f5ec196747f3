"""From a zone's book to the columns the estimate reads, and what is asked about on the way."""
