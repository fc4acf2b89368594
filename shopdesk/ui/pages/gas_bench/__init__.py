"""The gas bench: its calculators, and a whole range for another gas; alone or for one range."""
