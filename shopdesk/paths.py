"""Where things lie: the folders shipped with the program and the user's own folders.

`resources/` and `migrations/` stand beside the package in a checkout or an editable
install, inside it in an installed wheel, and in the bundle folder of a built application.
Nothing else in the program may guess at a path.
"""

import sys
from pathlib import Path

import platformdirs

_PACKAGE = Path(__file__).resolve().parent
_APP = "shopdesk"


def shipped(folder: str) -> Path:
    """The shipped folder `resources` or `migrations`; FileNotFoundError names what is missing."""
    bundle = Path(getattr(sys, "_MEIPASS", _PACKAGE)) / "shopdesk" / f"_{folder}"
    for place in (bundle, _PACKAGE / f"_{folder}", _PACKAGE.parent / folder):
        if place.is_dir():
            return place
    raise FileNotFoundError(f"the folder {folder} is neither inside {_PACKAGE} nor beside it")


def resource(*parts: str) -> Path:
    """A file below `resources/`."""
    return shipped("resources").joinpath(*parts)


def sample_shop() -> Path:
    """The shipped sample shop: beside the package in a checkout, inside it in a wheel."""
    bundle = Path(getattr(sys, "_MEIPASS", _PACKAGE)) / "shopdesk" / "_sample_shop.db"
    for place in (bundle, _PACKAGE / "_sample_shop.db", _PACKAGE.parent / "sample_shop.db"):
        if place.is_file():
            return place
    raise FileNotFoundError("the sample shop did not come with this installation")


def data_folder() -> Path:
    """Where shops lie by default (made when missing)."""
    return Path(platformdirs.user_data_dir(_APP, appauthor=False, ensure_exists=True))


def config_folder() -> Path:
    """Where the program remembers the last shop and its windows (made when missing)."""
    return Path(platformdirs.user_config_dir(_APP, appauthor=False, ensure_exists=True))
