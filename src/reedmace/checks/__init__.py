"""Rules over records that give queries."""
