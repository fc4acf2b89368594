"""What is where: everything that was taken off, in one list, to be found, moved, counted and put back."""
