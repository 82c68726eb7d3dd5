"""Whether a folder lies on another machine's disk, where SQLite's locks cannot be trusted.

SQLite's page on write-ahead logging (sqlite.org/wal.html): all who use a database must be on the same machine.
"""

import re
from pathlib import Path

MOUNTINFO = Path("/proc/self/mountinfo")

# The names Linux has for file systems over a network, or shared between a machine and its guest.
NETWORK = frozenset(
    "nfs nfs4 cifs smb2 smb3 smbfs ncpfs 9p afs coda ceph glusterfs lustre beegfs gpfs davfs vboxsf virtiofs prl_fs "
    "fuse.sshfs fuse.glusterfs fuse.glusterfs-fuse fuse.ceph fuse.davfs fuse.davfs2 fuse.rclone fuse.s3fs "
    "fuse.vmhgfs-fuse fuse.smbnetfs fuse.gvfsd-fuse".split()
)


def network_share(folder: Path, *, mountinfo: Path = MOUNTINFO) -> str:
    """The name of the network's file system that holds `folder`, "" for a disk of this machine or if nobody can say."""
    try:
        mounts = mountinfo.read_text(encoding="utf-8", errors="surrogateescape").splitlines()
    except OSError:
        return ""
    place, held_by = Path(folder).resolve(), ""
    deepest = -1
    for mount in mounts:
        point, system = parts_of(mount)
        # What is mounted later over the same place hides what was there.
        if place.is_relative_to(point) and len(point.parts) >= deepest:
            deepest, held_by = len(point.parts), system
    return held_by if held_by in NETWORK else ""


def parts_of(mount: str) -> tuple[Path, str]:
    """Where it is mounted, and what: proc_pid_mountinfo(5), with spaces and the like written as octal numbers."""
    before, _, after = mount.partition(" - ")
    point = re.sub(r"\\([0-7]{3})", lambda found: chr(int(found[1], 8)), before.split(" ")[4])
    return Path(point), after.split(" ")[0]
