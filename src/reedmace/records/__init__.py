"""Visits and sightings as values: what the ledger keeps and the export reads."""
