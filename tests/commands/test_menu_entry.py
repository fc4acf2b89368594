"""The entry in the desktop's menu, the icon, and shop files known by what stands in their header.

Fields by the freedesktop.org Desktop Entry Specification 1.5 and Shared MIME-info Specification 0.21.
"""

import xml.etree.ElementTree as ElementTree
from configparser import ConfigParser
from pathlib import Path

from shopdesk import paths
from shopdesk.commands.menu_entry import write
from shopdesk.storage import make_shop


def test_the_entry_starts_this_program_with_its_own_icon(tmp_path: Path) -> None:
    entry, icon, _ = write(tmp_path)
    read = ConfigParser(interpolation=None)
    read.optionxform = str  # type: ignore[assignment,method-assign]
    read.read(entry, encoding="utf-8")
    told = read["Desktop Entry"]
    assert {"Type", "Name", "Exec", "Icon", "MimeType"} <= set(told)
    program, *_, argument = told["Exec"].split()
    assert Path(program).is_file()
    assert argument == "%f"
    assert icon.read_bytes() == paths.resource("icons", f"{told['Icon']}.svg").read_bytes()


def test_a_shop_file_is_known_by_its_header_and_another_database_is_not(tmp_path: Path) -> None:
    kind = ElementTree.parse(write(tmp_path)[2]).getroot()
    spec = "{http://www.freedesktop.org/standards/shared-mime-info}"
    marks = list(kind.iter(f"{spec}match"))
    make_shop(tmp_path / "shop.db")
    header = (tmp_path / "shop.db").read_bytes()[:100]
    first, second = marks
    assert header.startswith(first.attrib["value"].encode())
    assert second.attrib["type"] == "big32"
    at = int(second.attrib["offset"])
    assert int.from_bytes(header[at : at + 4]) == int(second.attrib["value"], 16)
