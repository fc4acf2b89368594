"""What the trade knows and computes: values and pure functions.

Knows the standard library, numpy and the solver; never files of a shop, Qt, SQL or paper.
"""
