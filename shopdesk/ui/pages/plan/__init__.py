"""The Plan: the bench calendar drawn, promises with their odds, what would happen if, hours and leave."""
