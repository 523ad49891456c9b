//! The key of the links, in a file of its own beside the database.

use std::fs::OpenOptions;
use std::io::{Error, ErrorKind, Read, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::Path;

use crate::token::LinkKey;

/// Name of the file in the data folder.
const FILE_NAME: &str = "links.key";

/// The key that the folder holds, or a new one where it holds none.
pub(super) fn open(data: &Path) -> Result<LinkKey, Error> {
    let file = data.join(FILE_NAME);
    match std::fs::File::open(&file) {
        Ok(kept) => read(kept, &file),
        Err(error) if error.kind() == ErrorKind::NotFound => make(&file),
        Err(error) => Err(error),
    }
}

fn read(kept: std::fs::File, file: &Path) -> Result<LinkKey, Error> {
    let mut bytes = Vec::new();
    kept.take(64).read_to_end(&mut bytes)?;
    LinkKey::kept(&bytes).ok_or_else(|| {
        let what = format!(
            "{} is not a key of links. Move it away: links go on working, and new ones get a new key",
            file.display()
        );
        Error::new(ErrorKind::InvalidData, what)
    })
}

/// Written under another name first: a key that is half written would be refused for ever.
fn make(file: &Path) -> Result<LinkKey, Error> {
    let key = LinkKey::fresh().map_err(Error::other)?;
    let new = file.with_extension("new");
    let mut options = OpenOptions::new();
    let mut writing = options
        .write(true)
        .create(true)
        .truncate(true)
        .mode(0o600)
        .open(&new)?;
    writing.write_all(key.bytes())?;
    writing.sync_all()?;
    std::fs::rename(&new, file)?;
    Ok(key)
}

#[cfg(test)]
mod tests {
    use std::os::unix::fs::PermissionsExt;

    use super::*;

    #[test]
    fn a_key_is_made_once_and_is_for_its_owner_alone() {
        let folder = tempfile::tempdir().unwrap();
        let made = open(folder.path()).unwrap();
        assert_eq!(made.bytes(), open(folder.path()).unwrap().bytes());
        let file = folder.path().join(FILE_NAME);
        let mode = std::fs::metadata(&file).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o600);
        std::fs::write(&file, "short").unwrap();
        let refused = open(folder.path()).unwrap_err().to_string();
        assert!(refused.contains("is not a key of links"), "{refused}");
    }
}
