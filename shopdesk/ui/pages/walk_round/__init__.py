"""The Walk-round: one inspection of one range, a key at a time, with what it comes to beside it."""
