"""What was named → the taxon a record holds: the lowest one that holds everything claimed, and no lower."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reedmace.keys.model import Key
from reedmace.keys.names import FoundName, find_name
from reedmace.tasks.shared.taxa import taxon_of


def _found(key: Key, typed: str) -> FoundName:
    found = find_name(key, typed)
    assert isinstance(found, FoundName), found
    return found


@pytest.mark.parametrize(
    ("typed", "name", "rank", "one_of"),
    [
        ("azure dam", "Coenagrion puella", "species", ()),
        ("azure/variable", "Coenagrion", "genus", ("Coenagrion puella", "Coenagrion pulchellum")),
        ("azure/common blue", "Coenagrionidae", "family", ("Coenagrion puella", "Enallagma cyathigerum")),
        ("azure dam/banded dem", "Zygoptera", "suborder", ("Coenagrion puella", "Calopteryx splendens")),
        ("emperor/common darter", "Anisoptera", "suborder", ("Anax imperator", "Sympetrum striolatum")),
        ("azure dam/emperor dragonfly", "Odonata", "order", ("Coenagrion puella", "Anax imperator")),
        (
            "azure/variable/common blue",
            "Coenagrionidae",
            "family",
            ("Coenagrion puella", "Coenagrion pulchellum", "Enallagma cyathigerum"),
        ),
    ],
)
def test_a_choice_becomes_the_lowest_taxon_that_holds_it_with_its_rank(
    key: Key, typed: str, name: str, rank: str, one_of: tuple[str, ...]
) -> None:
    """The expected taxa are those of the order's usual classification, known outside this program."""
    taxon = taxon_of(key, _found(key, typed))
    assert (taxon.scientific_name, taxon.rank, taxon.one_of) == (name, rank, one_of)
    assert taxon.typed == typed


def test_a_species_comes_with_everything_above_it(tarn: Key) -> None:
    """Kingdom to epithet, authority and English name, as the made key says them."""
    taxon = taxon_of(tarn, _found(tarn, "pale"))
    assert taxon._asdict() == {
        "scientific_name": "Tarnula pallida",
        "authorship": "(Fellman, 1899)",
        "rank": "species",
        "vernacular": "Pale Rushlet",
        "kingdom": "Animalia",
        "phylum": "Arthropoda",
        "class_name": "Insecta",
        "order": "Lacunoptera",
        "family": "Tarnulidae",
        "genus": "Tarnula",
        "specific_epithet": "pallida",
        "one_of": (),
        "typed": "pale",
    }


def test_an_old_name_is_written_down_under_the_accepted_one(tarn: Key) -> None:
    """The synonym stays in what was typed and nowhere else."""
    taxon = taxon_of(tarn, _found(tarn, "Vetus pallida"))
    assert (taxon.scientific_name, taxon.typed) == ("Tarnula pallida", "Vetus pallida")


@pytest.mark.parametrize(
    ("typed", "name", "rank", "family", "genus"),
    [
        ("Tarnula sp.", "Tarnula", "genus", "Tarnulidae", "Tarnula"),
        ("Mossopidae", "Mossopidae", "family", "Mossopidae", ""),
        ("Robustina", "Robustina", "suborder", "", ""),
    ],
)
def test_a_group_with_a_scientific_name_is_recorded_as_that_group(
    tarn: Key, typed: str, name: str, rank: str, family: str, genus: str
) -> None:
    """Writing "Tarnula sp." claims a genus: no list of species, no epithet, no authority."""
    taxon = taxon_of(tarn, _found(tarn, typed))
    assert (taxon.scientific_name, taxon.rank, taxon.family, taxon.genus) == (name, rank, family, genus)
    assert (taxon.one_of, taxon.specific_epithet, taxon.authorship) == ((), "", "")


def test_a_trade_group_keeps_its_own_title_beside_the_taxon(tarn: Key) -> None:
    """A pair the trade names has no scientific name of its own; the genus holds it."""
    taxon = taxon_of(tarn, _found(tarn, "Pale or Misty Rushlet"))
    assert (taxon.scientific_name, taxon.rank, taxon.vernacular) == ("Tarnula", "genus", "Pale or Misty Rushlet")
    assert set(taxon.one_of) == {"Tarnula pallida", "Tarnula nebula"}


def test_a_look_alike_that_the_key_does_not_describe_counts_too(tarn: Key) -> None:
    """A verdict of "Pale, or Doubtful, which looks the same" is a genus, with both names kept."""
    pale = _found(tarn, "pale").species
    taxon = taxon_of(tarn, FoundName("the key's verdict", pale, None, (0,)))
    assert (taxon.scientific_name, taxon.rank) == ("Tarnula", "genus")
    assert taxon.one_of == ("Tarnula pallida", "Tarnula dubia")
    assert taxon.vernacular == "Pale Rushlet or Doubtful Rushlet"


@given(data=st.data())
def test_the_taxon_holds_every_species_claimed_and_no_lower_one_does(key: Key, data: st.DataObject) -> None:
    """For any set of species, against the key's own chains from species up to order."""
    chosen = data.draw(
        st.lists(st.integers(0, len(key.species) - 1), min_size=1, max_size=5, unique=True), label="species"
    )
    chains = [
        [
            ("species", one.name),
            ("genus", one.genus),
            ("family", one.family),
            ("suborder", key.families[one.family][1]),
            ("order", key.classification["order"]),
        ]
        for one in (key.species[index] for index in chosen)
    ]
    lowest = next(step for step in chains[0] if all(step in chain for chain in chains))
    taxon = taxon_of(key, FoundName("typed", tuple(chosen)))
    assert (taxon.rank, taxon.scientific_name) == lowest
    assert len(taxon.one_of) == (len(chosen) if len(chosen) > 1 else 0)
