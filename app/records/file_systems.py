"""Which file system a folder lies on: the write-ahead log does not work over a network (sqlite.org/wal.html)."""

from pathlib import Path

NETWORK = frozenset(
    {"nfs", "nfs4", "cifs", "smb3", "smbfs", "afs", "ceph", "glusterfs", "fuse.glusterfs", "fuse.sshfs"}
)
MOUNTS = Path("/proc/self/mounts")
"""Linux lists every mounted file system here: device, place, kind (proc(5)). Elsewhere nothing is known."""


def network_file_system(folder: Path, mounts: Path = MOUNTS) -> str | None:
    """The kind of the network file system that the folder lies on; None where it is none or nothing is known."""
    try:
        lines = mounts.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return None
    places = [
        (Path(fields[1].replace("\\040", " ")), fields[2])
        for fields in map(str.split, lines)
        if len(fields) > 2
    ]
    holding = [(len(place.parts), kind) for place, kind in places if folder.is_relative_to(place)]
    # Of two file systems mounted at one place the later one is seen.
    deepest = max((depth for depth, _ in holding), default=0)
    kind = next((kind for depth, kind in reversed(holding) if depth == deepest), None)
    return kind if kind in NETWORK else None
