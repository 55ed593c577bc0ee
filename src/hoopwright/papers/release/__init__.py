"""Papers out of the records: first-article report, concession form, build book, genealogy; as PDF and XLSX."""
