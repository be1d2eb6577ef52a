"""The terms of Darwin Core that a table may have as columns, and their full names.

Version followed: the List of Darwin Core Terms issued 2026-05-26 (https://dwc.tdwg.org/list/).
Only the names of the terms are taken from it. Following a later version is a change that users see: it goes
into the changelog.
"""

from __future__ import annotations

VERSION = "2026-05-26"

DARWIN_CORE = "http://rs.tdwg.org/dwc/terms/"
DUBLIN_CORE_ELEMENTS = "http://purl.org/dc/elements/1.1/"
DUBLIN_CORE_TERMS = "http://purl.org/dc/terms/"

# The few terms borrowed from Dublin Core; all others are Darwin Core's own.
_ELEMENTS = frozenset({"type", "language"})
_TERMS = frozenset({"modified", "license", "rightsHolder", "accessRights", "bibliographicCitation", "references"})

# In the order of the list, by class.
_NAMES = """
  type modified language license rightsHolder accessRights bibliographicCitation references
  feedbackURL institutionID collectionID datasetID institutionCode collectionCode
  ownerInstitutionCode datasetName basisOfRecord informationWithheld dataGeneralizations
  dynamicProperties
  eventID parentEventID eventCategory eventType fieldNumber eventDate eventTime startDayOfYear
  endDayOfYear year month day verbatimEventDate habitat sampledSubstrateCategory
  sampledSubstrateLayer samplingProtocol sampleSizeValue sampleSizeUnit samplingEffort fieldNotes
  eventRemarks
  locationID siteNumber higherGeographyID higherGeography continent waterBody islandGroup island
  country countryCode stateProvince county municipality locality verbatimLocality
  minimumElevationInMeters maximumElevationInMeters verbatimElevation verticalDatum
  minimumDepthInMeters maximumDepthInMeters verbatimDepth minimumDistanceAboveSurfaceInMeters
  maximumDistanceAboveSurfaceInMeters locationAccordingTo locationRemarks
  preferredSpatialRepresentation decimalLatitude decimalLongitude geodeticDatum
  coordinateUncertaintyInMeters coordinatePrecision pointRadiusSpatialFit verbatimCoordinates
  verbatimLatitude verbatimLongitude verbatimCoordinateSystem verbatimSRS footprintWKT footprintSRS
  footprintSpatialFit georeferencedBy georeferencedDate georeferenceProtocol georeferenceSources
  georeferenceRemarks
  geologicalContextID earliestEonOrLowestEonothem latestEonOrHighestEonothem
  earliestEraOrLowestErathem latestEraOrHighestErathem earliestPeriodOrLowestSystem
  latestPeriodOrHighestSystem earliestEpochOrLowestSeries latestEpochOrHighestSeries
  earliestAgeOrLowestStage latestAgeOrHighestStage lowestBiostratigraphicZone
  highestBiostratigraphicZone lithostratigraphicTerms group formation member bed
  identificationID identificationType verbatimIdentification isAcceptedIdentification taxonFormula
  identificationQualifier typeStatus identifiedBy identifiedByID dateIdentified
  identificationReferences identificationVerificationStatus identificationRemarks
  materialEntityID digitalSpecimenID materialEntityCategory materialEntityType discipline typeOfType
  typifiedName catalogNumber otherCatalogNumbers
  recordNumber
  objectQuantity objectQuantityType preparations disposition verbatimLabel associatedSequences
  materialEntityRemarks
  materialSampleID
  occurrenceID recordedBy recordedByID individualCount organismQuantity organismQuantityType sex
  lifeStage reproductiveCondition caste behavior vitality establishmentMeans degreeOfEstablishment
  pathway georeferenceVerificationStatus occurrenceStatus associatedMedia associatedOccurrences
  associatedReferences associatedTaxa occurrenceRemarks
  organismID organismScope organismName causeOfDeath associatedOrganisms previousIdentifications
  organismRemarks
  taxonID scientificNameID acceptedNameUsageID parentNameUsageID originalNameUsageID
  nameAccordingToID namePublishedInID taxonConceptID scientificName acceptedNameUsage
  parentNameUsage originalNameUsage nameAccordingTo namePublishedIn namePublishedInYear
  higherClassification kingdom phylum class order superfamily family subfamily tribe subtribe genus
  genericName subgenus infragenericEpithet specificEpithet infraspecificEpithet cultivarEpithet
  taxonRank verbatimTaxonRank scientificNameAuthorship vernacularName nomenclaturalCode
  taxonomicStatus nomenclaturalStatus taxonRemarks
"""


def _iri(name: str) -> str:
    if name in _ELEMENTS:
        return DUBLIN_CORE_ELEMENTS + name
    return (DUBLIN_CORE_TERMS if name in _TERMS else DARWIN_CORE) + name


# Term name to IRI, in the order of the list.
TERMS: dict[str, str] = {name: _iri(name) for name in _NAMES.split()}
