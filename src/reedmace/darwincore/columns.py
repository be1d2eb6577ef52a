"""The columns we write, in an order of thought: the record, when, who, what, how many, where, how, terms."""

from __future__ import annotations

DEFAULT_COLUMNS: tuple[str, ...] = (
    # the record
    *("occurrenceID", "type", "basisOfRecord", "occurrenceStatus", "eventID"),
    # when and who
    *("eventDate", "year", "month", "day", "recordedBy"),
    # what
    *("scientificName", "scientificNameAuthorship", "taxonRank", "specificEpithet", "vernacularName"),
    *("kingdom", "phylum", "class", "order", "family", "genus"),
    # how it was named
    *("identificationQualifier", "identifiedBy", "dateIdentified", "identificationVerificationStatus"),
    *("identificationReferences", "identificationRemarks"),
    # how many, and in what state
    *("sex", "lifeStage", "behavior", "reproductiveCondition"),
    *("individualCount", "organismQuantity", "organismQuantityType"),
    # as it was written down
    *("verbatimIdentification", "verbatimLocality", "verbatimEventDate", "eventTime"),
    *("verbatimCoordinates", "verbatimCoordinateSystem", "verbatimSRS"),
    # where
    *("decimalLatitude", "decimalLongitude", "geodeticDatum", "coordinateUncertaintyInMeters"),
    *("georeferenceRemarks", "locality", "country", "countryCode", "habitat"),
    *("higherGeography", "dynamicProperties"),
    # how it was looked for
    *("samplingProtocol", "sampleSizeValue", "sampleSizeUnit", "samplingEffort"),
    *("fieldNotes",),
    *("eventRemarks", "occurrenceRemarks", "associatedMedia", "previousIdentifications"),
    # under what terms
    *("license", "datasetName", "modified", "dataGeneralizations", "informationWithheld"),
)
