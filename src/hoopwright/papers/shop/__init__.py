"""Sheets that go to the tool room, the machines and the inspection room, one module a sheet."""
