"""The Bench: what can be done today across ranges, the clock, and all a technician writes down with it."""
