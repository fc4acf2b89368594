"""How papers look: type, colours, pages, tables, blocks that several papers share."""
