"""Anybody's spreadsheet or Darwin Core file → visits and sightings; a row that does not fit comes back."""
