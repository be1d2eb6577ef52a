"""Field notes as people write them: the line of a visit, lines of what was seen, and the people named in them."""
