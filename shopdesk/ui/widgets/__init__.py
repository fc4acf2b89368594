"""Widgets that more than one page needs, named by what they are. They know no records and no services."""
