"""Records and facts of the trade."""
