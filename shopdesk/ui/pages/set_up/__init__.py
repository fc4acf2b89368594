"""Set-up: the shop, its people, rates, taxes, terms and texts, its catalogue, the look, and copies."""
