"""Pictures of a range, large: looked at, marked, turned and cropped, from whatever page they are opened."""
