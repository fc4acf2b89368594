"""Whether a file lies on a network share, where SQLite's write-ahead log does not work.

"All processes using a database must be on the same host computer; WAL does not work over a network
filesystem" (SQLite, Write-Ahead Logging, https://sqlite.org/wal.html).
"""

from pathlib import Path

from shopdesk.domain.problem import Unavailable

_MOUNTS = Path("/proc/self/mountinfo")
# Names the Linux kernel gives them (proc_pid_mountinfo(5), field 9).
_NETWORK = frozenset({
    "nfs", "nfs4", "cifs", "smb3", "smbfs", "ncpfs", "afs", "ceph", "gfs2", "ocfs2", "lustre", "davfs",
    "fuse.sshfs", "fuse.glusterfs", "fuse.davfs", "fuse.rclone",
})  # fmt: skip


def file_system_of(path: Path, mounts: Path = _MOUNTS) -> str:
    """The kind of file system a file lies on; empty where the system does not tell."""
    if str(path).startswith("\\\\"):
        return "cifs"  # a Windows share by its name
    try:
        lines = mounts.read_text(encoding="utf-8", errors="surrogateescape").splitlines()
    except OSError:
        return ""
    place, found = path.resolve(), (-1, "")
    for line in lines:
        before, _, after = line.partition(" - ")
        at = Path(before.split(" ")[4].encode("utf-8", "surrogateescape").decode("unicode_escape"))
        if place.is_relative_to(at) and len(at.parts) >= found[0]:
            found = (len(at.parts), after.split(" ")[0])
    return found[1]


def refuse_share(path: Path) -> None:
    """Unavailable when a shop there is not to be written to."""
    kind = file_system_of(path)
    if kind in _NETWORK:
        raise Unavailable(
            "The shop {path} lies on a network share ({kind}), where two programs can damage it. Look at it "
            "only, copy it to a disk of this machine, or move it to a database server.",
            path=str(path),
            kind=kind,
        )


def refuse_other_log(path: Path, log: str) -> None:
    """Unavailable when the file did not keep the write-ahead log that was asked for; `log`: what it has."""
    if log != "wal":
        raise Unavailable(
            "The shop {path} keeps no write-ahead log where it lies (its log is “{log}”), so it is not "
            "written to there. Look at it only, or copy it to a disk of this machine.",
            path=str(path),
            log=log,
        )
