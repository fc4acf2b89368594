"""The Floor: every range in the shop, where it stands and what it waits for; ranges are booked in here."""
