"""What several use cases share: typed dates, settings and taxa as values, and files written whole or not at all."""
