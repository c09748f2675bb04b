//! File systems that lie on another computer. A write-ahead log may seem to work there, and then does not where two
//! computers have the file open (https://www.sqlite.org/wal.html, section 1: no network file systems).

use std::path::{Path, PathBuf};

/// Names of file systems that share files between computers, or between a computer and the one that it runs inside of.
const SHARED: [&str; 22] = [
    "9p",
    "acfs",
    "afs",
    "ceph",
    "cifs",
    "coda",
    "davfs",
    "drvfs",
    "fuse.davfs2",
    "fuse.glusterfs",
    "fuse.rclone",
    "fuse.s3fs",
    "fuse.sshfs",
    "fuse.vmhgfs-fuse",
    "glusterfs",
    "lustre",
    "ncpfs",
    "nfs",
    "nfs4",
    "smb3",
    "smbfs",
    "vboxsf",
];

/// Whether a folder lies on such a file system. Only Linux tells; elsewhere it is left to SQLite to find out.
pub(super) fn is_shared(dir: &Path) -> bool {
    let Ok(table) = std::fs::read_to_string("/proc/self/mountinfo") else { return false };
    let Ok(dir) = dir.canonicalize() else { return false };
    kind_in(&table, &dir).is_some_and(|kind| SHARED.contains(&kind))
}

/// The file system of a folder by the table of mounts (`man 5 proc_pid_mountinfo`): the deepest mount above it, of two at
/// one place the later.
fn kind_in<'a>(table: &'a str, dir: &Path) -> Option<&'a str> {
    let mounts = table.lines().filter_map(|line| {
        let (before, after) = line.split_once(" - ")?;
        let place = PathBuf::from(plain(before.split(' ').nth(4)?));
        dir.starts_with(&place).then(|| (place.components().count(), after.split(' ').next().unwrap_or_default()))
    });
    mounts.max_by_key(|(depth, _)| *depth).map(|(_, kind)| kind)
}

/// Spaces and the like stand there as `\040`.
fn plain(text: &str) -> String {
    let mut parts = text.split('\\');
    let mut plain = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let code = part.get(..3).and_then(|code| u8::from_str_radix(code, 8).ok()).filter(u8::is_ascii);
        match code {
            Some(code) => plain.extend([char::from(code).to_string().as_str(), &part[3..]]),
            None => plain.extend(["\\", part]),
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_deepest_mount_says_what_a_folder_lies_on() {
        let table = "22 1 252:0 / / rw,relatime shared:1 - ext4 /dev/vda rw\n\
                     30 22 0:40 / /mnt/ship\\040share rw - cifs //server/share rw\n\
                     31 30 7:0 / /mnt/ship\\040share/stick rw - vfat /dev/loop0 rw\n\
                     32 22 0:50 / /srv rw - ext4 /dev/vdb rw\n\
                     33 22 0:51 / /srv rw - nfs4 10.0.0.2:/srv rw\n";
        let kind = |dir: &str| kind_in(table, Path::new(dir));
        assert_eq!(kind("/home/cadet"), Some("ext4"));
        assert_eq!(kind("/mnt/ship share/profiles"), Some("cifs"));
        assert_eq!(kind("/mnt/ship shared"), Some("ext4"));
        assert_eq!(kind("/mnt/ship share/stick/a"), Some("vfat"));
        assert_eq!(kind("/srv/a"), Some("nfs4"), "mounted over the other");
        assert_eq!(kind_in("no table", Path::new("/")), None);
        assert!(SHARED.contains(&"cifs") && !SHARED.contains(&"vfat"));
    }
}
