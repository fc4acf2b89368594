"""The bench calendar of this shop: what is open becomes a plan, and a plan becomes promises.

Gathers the shop's facts into the values of `domain.planning`, has them solved, and keeps the
plan, its pins, the promises and their odds. Knows no screens.
"""
