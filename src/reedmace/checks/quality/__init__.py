"""The published data-quality validations, over raw rows of Darwin Core.

The definitions are those of the draft Biodiversity Data Quality standard (TDWG, 2026): what a validation asks, when
it cannot be asked, and what counts as empty. The code and the words are ours. `VALIDATIONS` names them all; the
vocabularies are lists held here, for nothing is asked of a network.
"""

from __future__ import annotations

from reedmace.checks.quality import dates, events, names, positions, presence, vocabularies
from reedmace.checks.quality.outcome import HELD, Basis, Outcome, Row, Status, Validation

__all__ = ["HELD", "VALIDATIONS", "Basis", "Outcome", "Row", "Status", "Validation"]

# Label, as published but for its first word → validation, in the order in which queries are told.
VALIDATIONS: dict[str, Validation] = {
    **presence.VALIDATIONS,
    **dates.VALIDATIONS,
    **events.VALIDATIONS,
    **positions.VALIDATIONS,
    **vocabularies.VALIDATIONS,
    **names.VALIDATIONS,
}
