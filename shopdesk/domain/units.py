"""Units of the bench with exact factors; every value carries its unit in its name.

Sources: the inch (25.4 mm), the foot (0.3048 m) and the pound-force are exact by definition.
The inch of water column is the conventional one, 25.4 x 9.80665 Pa (ISO 31-3); at that
value the standard atmosphere of 101325 Pa is 406.782 in w.c. The Btu is that of the
International Table, 1055.05585262 J (ISO 31-4). Knows nothing of gases or of screens.
"""

PA_PER_INWC = 249.08891
PA_PER_PSI = 6894.757293168361
ATMOSPHERE_INWC = 101325 / PA_PER_INWC
HALF_PSI_INWC = 0.5 * PA_PER_PSI / PA_PER_INWC
M3_PER_FT3 = 0.028316846592
J_PER_BTU = 1055.05585262
MM_PER_IN = 25.4
M_PER_FT = 0.3048


def inwc_to_pa(inwc: float) -> float:
    return inwc * PA_PER_INWC


def pa_to_inwc(pa: float) -> float:
    return pa / PA_PER_INWC


def inwc_to_mbar(inwc: float) -> float:
    return inwc * PA_PER_INWC / 100


def mbar_to_inwc(mbar: float) -> float:
    return mbar * 100 / PA_PER_INWC


def psi_to_inwc(psi: float) -> float:
    return psi * PA_PER_PSI / PA_PER_INWC


def inwc_to_psi(inwc: float) -> float:
    return inwc * PA_PER_INWC / PA_PER_PSI


def ft3_to_m3(ft3: float) -> float:
    """Also ft³/h to m³/h."""
    return ft3 * M3_PER_FT3


def m3_to_ft3(m3: float) -> float:
    """Also m³/h to ft³/h."""
    return m3 / M3_PER_FT3


def btuh_to_kw(btuh: float) -> float:
    return btuh * J_PER_BTU / 3_600_000


def kw_to_btuh(kw: float) -> float:
    return kw * 3_600_000 / J_PER_BTU


def btuft3_to_mjm3(btuft3: float) -> float:
    return btuft3 * J_PER_BTU / M3_PER_FT3 / 1_000_000


def mjm3_to_btuft3(mjm3: float) -> float:
    return mjm3 * 1_000_000 * M3_PER_FT3 / J_PER_BTU


def f_to_c(f: float) -> float:
    return (f - 32) / 1.8


def c_to_f(c: float) -> float:
    return c * 1.8 + 32


def f_difference_to_c(f: float) -> float:
    """A difference of temperatures, not a temperature."""
    return f / 1.8


def c_difference_to_f(c: float) -> float:
    return c * 1.8


def in_to_mm(inches: float) -> float:
    return inches * MM_PER_IN


def mm_to_in(mm: float) -> float:
    return mm / MM_PER_IN


def ft_to_m(ft: float) -> float:
    return ft * M_PER_FT


def m_to_ft(m: float) -> float:
    return m / M_PER_FT
