"""Addresses, by who asks."""
