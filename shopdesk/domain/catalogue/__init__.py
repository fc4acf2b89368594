"""The catalogue: what there is to look at on a range, what may be found, what is done about it.

`model` holds the values; `reading` makes them from the TOML files in `resources/catalogue`
and checks every reference.
"""
