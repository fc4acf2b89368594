"""A range's jacket: everything about it on one page, with the thread from finding to invoice in sight."""
