"""What a bench value is a value of; it is kept in the US unit named here and shown in the shop's."""

from enum import StrEnum


class Quantity(StrEnum):
    """Kinds of values; the comment is the unit a value is kept in."""

    NUMBER = "number"  # none
    PRESSURE = "pressure"  # in w.c.
    TEMPERATURE = "temperature"  # °F
    WARMTH = "difference of temperatures"  # °F
    MINUTES = "minutes"
    SECONDS = "seconds"
    VOLUME = "volume"  # ft³
    FLOW = "flow"  # ft³/h
    HEAT = "heat"  # Btu/h
    HEATING_VALUE = "heating value"  # Btu/ft³
    HOLE = "hole"  # in
    LENGTH = "length"  # in
    CORD = "cord"  # ft
    ELEVATION = "elevation"  # ft
    WEIGHT = "weight"  # lb
    PPM = "ppm"
    PERCENT = "percent"
    OHM = "ohm"
    MEGOHM = "megohm"
    MILLIAMPERE = "milliampere"
    MILLIVOLT = "millivolt"
    VOLT = "volt"
    GAUGE = "wire gauge"  # AWG
