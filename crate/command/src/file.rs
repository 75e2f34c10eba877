//! Files that are whole or not there at all: written under another name in the
//! same folder, made durable, then renamed.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use tempfile::Builder;

/// How the names of unfinished files begin and end.
pub const UNFINISHED: (&str, &str) = (".loftkin-", ".part");

/// Puts `bytes` into the file at `path`. Whatever happens, a reader finds either
/// what was there before or all of `bytes`. Unless `overwrite`, a file that is
/// there is left alone.
///
/// # Errors
/// [`io::ErrorKind::AlreadyExists`], or whatever the system says.
pub fn write(path: &Path, bytes: &[u8], overwrite: bool) -> io::Result<()> {
    let written = write_as(path, bytes, overwrite, UNFINISHED.0);
    if written.is_ok() {
        sync_folder(&folder_of(path));
    }
    written
}

/// The same, with `mark` at the beginning of the unfinished file's name, and the
/// name left to be made durable by [`sync_folder`].
///
/// # Errors
/// [`io::ErrorKind::AlreadyExists`], or whatever the system says.
pub fn write_as(path: &Path, bytes: &[u8], overwrite: bool, mark: &str) -> io::Result<()> {
    // A link stays a link, to a file that is replaced.
    let place = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    if fs::metadata(&place).is_ok_and(|there| !there.is_file()) {
        // A pipe or a device has no other name to be written under.
        return fs::write(&place, bytes);
    }
    let folder = folder_of(&place);
    let mut builder = Builder::new();
    builder.prefix(mark).suffix(UNFINISHED.1);
    #[cfg(unix)]
    builder.permissions(permissions(&place));
    let mut file = builder.tempfile_in(&folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    if overwrite {
        file.persist(&place)?;
    } else {
        file.persist_noclobber(&place)?;
    }
    Ok(())
}

/// Makes the names in `folder` durable, where the system can.
pub fn sync_folder(folder: &Path) {
    // Some systems and file systems do not sync folders: the files are safe, and
    // at worst a name is lost with the power.
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
}

/// The folder that `path` is or would be in.
pub fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
        _ => PathBuf::from("."),
    }
}

/// Those of the file that is there; else what any new file gets.
#[cfg(unix)]
fn permissions(path: &Path) -> fs::Permissions {
    use std::fs::Permissions;
    use std::os::unix::fs::PermissionsExt;
    fs::metadata(path).map_or(Permissions::from_mode(0o666), |there| there.permissions())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_is_there_stays_unless_asked() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("family.json");
        write(&path, b"one", false).unwrap();
        let refused = write(&path, b"two", false).unwrap_err();
        assert_eq!(refused.kind(), io::ErrorKind::AlreadyExists);
        assert_eq!(fs::read(&path).unwrap(), b"one");
        write(&path, b"three", true).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"three");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "left over");
    }

    #[cfg(unix)]
    #[test]
    fn a_new_file_may_be_read_by_whom_others_may() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let (ours, plain) = (folder.path().join("ours"), folder.path().join("plain"));
        write(&ours, b"one", false).unwrap();
        fs::write(&plain, b"one").unwrap();
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode();
        assert_eq!(mode(&ours), mode(&plain));
        fs::set_permissions(&ours, fs::Permissions::from_mode(0o640)).unwrap();
        write(&ours, b"two", true).unwrap();
        assert_eq!(mode(&ours) & 0o777, 0o640);
    }
}
