"""The metal that makes the part: shapes, loads, stock, life."""
