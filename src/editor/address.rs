//! Addresses of files as the protocol writes them (RFC 8089, RFC 3986), and their paths.
//!
//! Must not know what is in a file. What is no file's address stands for a text of its own, by its address.

use std::path::{Path, PathBuf};

/// The path that an address names.
#[must_use]
pub fn path(address: &str) -> PathBuf {
    let Some(rest) = address.strip_prefix("file://") else { return PathBuf::from(address) };
    let rest = rest.find('/').map_or(rest, |at| rest.get(at..).unwrap_or_default());
    let mut bytes = Vec::with_capacity(rest.len());
    let mut left = rest.as_bytes();
    while let [first, others @ ..] = left {
        let coded = || {
            let digits = std::str::from_utf8(others.get(..2)?).ok()?;
            u8::from_str_radix(digits, 16).ok()
        };
        let byte = (*first == b'%').then(coded).flatten();
        left = if byte.is_some() { others.get(2..).unwrap_or_default() } else { others };
        bytes.push(byte.unwrap_or(*first));
    }
    // Folders are written with and without a slash at their end.
    os(bytes).components().collect()
}

#[cfg(unix)]
fn os(bytes: Vec<u8>) -> PathBuf {
    use std::os::unix::ffi::OsStringExt as _;
    PathBuf::from(std::ffi::OsString::from_vec(bytes))
}

#[cfg(not(unix))]
fn os(bytes: Vec<u8>) -> PathBuf {
    // `/C:/ledgers` is the address of `C:/ledgers`.
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let drive = text.as_bytes().get(2) == Some(&b':');
    PathBuf::from(if drive { text.trim_start_matches('/') } else { &text })
}

/// Whether an address is a file's.
#[must_use]
pub fn is_file(address: &str) -> bool {
    address.starts_with("file:")
}

/// The address of a path.
#[must_use]
pub fn of(path: &Path) -> String {
    let mut address = "file://".to_owned();
    let bytes = path.as_os_str().as_encoded_bytes();
    if !bytes.starts_with(b"/") {
        address.push('/');
    }
    for byte in bytes {
        match byte {
            b'\\' if cfg!(windows) => address.push('/'),
            b'/' | b'-' | b'.' | b'_' | b'~' => address.push(char::from(*byte)),
            byte if byte.is_ascii_alphanumeric() => address.push(char::from(*byte)),
            byte => address.push_str(&format!("%{byte:02X}")),
        }
    }
    address
}
