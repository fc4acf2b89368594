"""Reckoning: what came of the work, in the same figures as the books and the papers, to the cent.

Amounts are minor units without tax unless a name says otherwise. Every question is a handful of aggregates
over the rows it is about; nothing is read job by job. Costs are for those who may see costs.
"""
