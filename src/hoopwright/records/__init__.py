"""The records: what was made, measured, found, decided and released, of which revision, on which tool."""

from hoopwright.records.kept import Entry, Kept
from hoopwright.records.store import Store, open_store
from hoopwright.records.writing import Writing

__all__ = ["Entry", "Kept", "Store", "Writing", "open_store"]
