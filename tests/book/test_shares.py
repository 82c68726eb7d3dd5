"""Which file system holds a folder, as Linux tells it (proc_pid_mountinfo(5))."""

from pathlib import Path

import pytest

from trackread.book.shares import network_share

# As in the manual page: id, parent, device, root, mount point, options, optional fields, -, type, source, options.
MOUNTS = """\
36 35 98:0 / / rw,noatime master:1 - ext4 /dev/root rw
37 36 0:40 / /films rw shared:2 - nfs4 server:/films rw
38 37 98:1 / /films/local rw - xfs /dev/sdb1 rw
39 36 0:41 / /mnt/two\\040words rw - fuse.sshfs ann@server: rw
40 36 0:42 / /over rw - ext4 /dev/sdc1 rw
41 36 0:43 / /over rw - cifs //server/over rw
"""


@pytest.mark.parametrize(
    ("folder", "share"),
    [
        ("/home/ann", ""),
        ("/films/tram", "nfs4"),
        ("/filmstock/tram", ""),
        ("/films/local/tram", ""),
        ("/mnt/two words/tram", "fuse.sshfs"),
        ("/over/tram", "cifs"),
    ],
)
def test_the_deepest_and_newest_mount_holds_a_folder(tmp_path, folder, share):
    mounts = tmp_path / "mountinfo"
    mounts.write_text(MOUNTS)

    assert network_share(Path(folder), mountinfo=mounts) == share


def test_where_nothing_is_told_no_share_is(tmp_path):
    assert network_share(tmp_path, mountinfo=tmp_path / "none") == ""


def test_the_mounts_of_this_machine_can_be_read(tmp_path):
    assert isinstance(network_share(tmp_path), str)
