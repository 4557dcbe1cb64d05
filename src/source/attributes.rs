//! What a file is besides its bytes: who may write to it, whose it is, how many names it has; and how a new file gets the same.
//!
//! Must not know what is in a file.

use std::fs::{File, Metadata};
use std::io;
use std::path::Path;

/// How many names a file has, if it is more than one.
#[cfg(unix)]
pub(super) fn names(there: &Metadata) -> Option<u64> {
    Some(std::os::unix::fs::MetadataExt::nlink(there)).filter(|names| *names > 1)
}

#[cfg(not(unix))]
pub(super) fn names(_: &Metadata) -> Option<u64> {
    None
}

/// Whether nobody, or not this user, may write to it. The superuser may write to anything; a file that nobody else may write
/// to is read-only for him too.
#[cfg(unix)]
pub(super) fn read_only(path: &Path, there: &Metadata) -> bool {
    there.permissions().readonly() || rustix::fs::access(path, rustix::fs::Access::WRITE_OK).is_err()
}

#[cfg(not(unix))]
pub(super) fn read_only(_: &Path, there: &Metadata) -> bool {
    there.permissions().readonly()
}

/// Gives a new file the owner, the group, the further attributes (access lists among them) and the mode of another.
///
/// # Errors
/// When one of them cannot be given: then the other must not be replaced.
#[cfg(unix)]
pub(super) fn keep(path: &Path, there: &Metadata, new: &File) -> io::Result<()> {
    use std::os::unix::fs::{MetadataExt as _, fchown};
    let made = new.metadata()?;
    if (made.uid(), made.gid()) != (there.uid(), there.gid()) {
        fchown(new, Some(there.uid()), Some(there.gid()))?;
    }
    further(path, new)?;
    // Last: a change of owner takes bits of the mode away.
    new.set_permissions(there.permissions())
}

#[cfg(not(unix))]
pub(super) fn keep(_: &Path, there: &Metadata, new: &File) -> io::Result<()> {
    new.set_permissions(there.permissions())
}

/// Copies the extended attributes, but for those that the system's security gives by itself.
#[cfg(any(target_os = "linux", target_os = "android", target_vendor = "apple"))]
fn further(path: &Path, new: &File) -> io::Result<()> {
    use rustix::fs::{XattrFlags, fgetxattr, flistxattr, fsetxattr};
    use rustix::io::Errno;
    /// The most that Linux gives, for a list of names and for a value (`limits.h`: `XATTR_LIST_MAX`, `XATTR_SIZE_MAX`).
    const MOST: usize = 65_536;
    let old = File::open(path)?;
    let mut names = vec![0; MOST];
    let length = match flistxattr(&old, &mut names[..]) {
        Ok(length) => length,
        Err(Errno::NOTSUP | Errno::NOSYS) => return Ok(()),
        Err(error) => return Err(error.into()),
    };
    let mut value = Vec::new();
    for name in names.get(..length).unwrap_or_default().split(|byte| *byte == 0) {
        if name.is_empty() || name.starts_with(b"security.") {
            continue;
        }
        value.resize(MOST, 0);
        let length = fgetxattr(&old, name, &mut value[..])?;
        fsetxattr(new, name, value.get(..length).unwrap_or_default(), XattrFlags::empty())?;
    }
    Ok(())
}

#[cfg(all(unix, not(any(target_os = "linux", target_os = "android", target_vendor = "apple"))))]
#[expect(clippy::unnecessary_wraps, reason = "as elsewhere on Unix")]
fn further(_: &Path, _: &File) -> io::Result<()> {
    Ok(())
}
