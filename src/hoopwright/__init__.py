"""hoopwright: from the drawing of a fabricated annular liner to accepted parts and the tools that make them."""

__version__ = "0.1.0"
