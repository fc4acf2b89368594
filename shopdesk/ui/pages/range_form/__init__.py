"""The form of a range itself, for every page that writes one down; knows no page."""
