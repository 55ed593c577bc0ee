"""Readers of earlier formats, one group of modules a format; `hoopwright.design.upgrade` calls them."""
