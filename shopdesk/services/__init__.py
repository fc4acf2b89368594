"""One function per user action and one per question a screen asks.

Each takes the `Seat` of the acting person first, checks the right, opens one unit of work,
commits once and returns frozen values. Mapped rows never leave this room.
"""
