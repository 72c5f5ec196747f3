"""The week: visits put on crew-nights, with skills, shifts and machines."""
