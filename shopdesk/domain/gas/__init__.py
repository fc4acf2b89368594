"""The gas bench: what flows through a drilled spud, which drill gives which input, what a change
of gas or a kitchen on a mountain asks for, and what the meter says.

Pure functions over values. Tables (drills, gases) are handed in; the readers take a path.
"""
