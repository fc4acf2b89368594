"""Papers: facts gathered from the shop, rendered, and kept as issued."""
