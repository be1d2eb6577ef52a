"""The rules: each a small function from a record to queries, listed once in `RULES`, in the order they are told.

They compare a record with what the key says of its species, and with what the county file says where there is one;
the county recorder knows better. Rules that need the records before it are in history.py.
"""

from __future__ import annotations

from reedmace.checks.care import child_named, protected, sensitive, withheld_site
from reedmace.checks.complete import (
    coarse_place,
    impossible_date,
    named_before_seen,
    vague_date,
    who_what_where_when,
)
from reedmace.checks.evidence import evidence_wanting, lookalike_open, not_what_the_key_said
from reedmace.checks.forms import impossible_sex, impossible_stage, pair_arithmetic
from reedmace.checks.names import name_not_in_key, names_of_two_kinds
from reedmace.checks.query import Rule
from reedmace.checks.season import out_of_season
from reedmace.checks.times import time_outside_visit, visit_in_the_dark
from reedmace.checks.whereabouts import (
    out_of_range,
    outside_county,
    square_without_land,
    unlikely_habitat,
    vice_county_against_boundary,
    vice_county_on_other_grid,
)

RULES: tuple[Rule, ...] = (
    who_what_where_when,
    impossible_date,
    named_before_seen,
    vague_date,
    visit_in_the_dark,
    time_outside_visit,
    coarse_place,
    square_without_land,
    outside_county,
    vice_county_on_other_grid,
    vice_county_against_boundary,
    out_of_season,
    out_of_range,
    unlikely_habitat,
    impossible_sex,
    impossible_stage,
    pair_arithmetic,
    names_of_two_kinds,
    name_not_in_key,
    evidence_wanting,
    not_what_the_key_said,
    lookalike_open,
    protected,
    sensitive,
    withheld_site,
    child_named,
)
