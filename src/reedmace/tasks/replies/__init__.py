"""A county recorder's answers → entries beside the records, receipts, and corrections on offer."""
