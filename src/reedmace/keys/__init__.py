"""Keys: model, reading, compiled form, typed answers, regions."""
