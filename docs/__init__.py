"""Makers of the generated documentation; the pages themselves lie beside this file."""
