"""The plain copy of a place that a record keeps."""

from reedmace.places.place import Place
from reedmace.records import PlaceRecord, unless_blank


def record_of_place(
    place: Place | None,
    locality: str = "",
    vice_county: str | None = None,
    regions: tuple[str, ...] = (),
    kind: str | None = None,
) -> PlaceRecord:
    """Give the text as typed, square, centre and uncertainty; `kind` is exact, map estimate or centroid, where said.

    A name of blanks alone is no name.
    """
    locality = unless_blank(locality)
    if place is None:
        return PlaceRecord(locality=locality, vice_county=vice_county)
    latitude, longitude = place.rounded()
    return PlaceRecord(
        typed=place.typed,
        system=place.system,
        square=place.square,
        side_m=place.side_m,
        latitude=latitude,
        longitude=longitude,
        uncertainty_m=round(place.uncertainty_m) if place.uncertainty_m is not None else None,
        kind=kind,  # type: ignore[arg-type]  # the words of a visit's line are the records' own
        vice_county=vice_county,
        regions=regions,
        locality=locality,
    )
