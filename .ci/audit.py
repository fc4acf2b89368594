"""Asks the package index whether anything installed here has a known vulnerability: `.ci/audit.py PYTHON`.

Exit 1 when it has. Without a network nothing can be asked: that is said, and the gate goes on.
"""
# ruff: noqa: T201 - what it says is the point

import json
import subprocess
import sys
import tempfile
from pathlib import Path

TRIES_S = 300


def main(python: str) -> int:
    with tempfile.TemporaryDirectory() as folder:
        answer = Path(folder) / "audit.json"
        command = [python, "-m", "pip_audit", "-s", "pypi", "--progress-spinner", "off", "--timeout", "15",
                   "-f", "json", "-o", str(answer)]  # fmt: skip
        try:
            done = subprocess.run(command, capture_output=True, text=True, timeout=TRIES_S, check=False)
            known = json.loads(answer.read_text(encoding="utf-8"))
        except (OSError, ValueError, subprocess.TimeoutExpired) as error:
            why = type(error).__name__ if "done" not in locals() else done.stderr.strip().splitlines()[-1:]
            print(f"Not audited, the package index did not answer: {why}")
            return 0
    found = [(one["name"], one["version"], fault["id"], ", ".join(fault["fix_versions"]) or "none yet")
             for one in known["dependencies"] for fault in one.get("vulns", ())]  # fmt: skip
    skipped = [one["name"] for one in known["dependencies"] if "skip_reason" in one]
    for name, version, fault, mended in found:
        print(f"{name} {version}: {fault}, mended in {mended}")
    print(f"{len(known['dependencies']) - len(skipped)} packages asked about, {len(found)} known faults")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
