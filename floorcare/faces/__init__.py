"""Where people meet the program: commands, documents, feeds, intake."""
