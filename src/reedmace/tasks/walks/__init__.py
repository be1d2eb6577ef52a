"""Walks into the ledger: logged whole or not at all, under way, logged again, and counted by two."""
