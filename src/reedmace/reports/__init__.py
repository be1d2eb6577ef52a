"""Reports over records: what a season, a site or a species adds up to. Pure functions of records."""
