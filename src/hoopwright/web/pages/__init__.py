"""One module a page: what the desk answered, arranged for its template."""
