"""Reckoning: what came of the work, each figure over its records."""
