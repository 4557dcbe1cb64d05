//! Addresses of files as the protocol writes them (RFC 8089, RFC 3986), and their paths.
//!
//! Must not know what is in a file. What is no file's address stands for a text of its own, by its address.

use std::path::{Component, Path, PathBuf};

/// The path that an address names. One that names no file of this machine stands for itself, as a path that leads nowhere.
#[must_use]
pub fn path(address: &str) -> PathBuf {
    local(address).unwrap_or_else(|| PathBuf::from(address))
}

/// Whether an address is a file's of this machine.
#[must_use]
pub fn is_file(address: &str) -> bool {
    local(address).is_some()
}

fn local(address: &str) -> Option<PathBuf> {
    let (scheme, rest) = address.split_once(':')?;
    if !scheme.eq_ignore_ascii_case("file") {
        return None;
    }
    // `file:/a` and `file:///a` are one; a host that is not this machine has other files.
    let path = match rest.strip_prefix("//") {
        Some(rest) => {
            let (host, path) = rest.split_at(rest.find('/')?);
            (host.is_empty() || host.eq_ignore_ascii_case("localhost")).then_some(path)?
        }
        None => rest,
    };
    if !path.starts_with('/') {
        return None;
    }
    let mut plain = PathBuf::new();
    // Folders are written with and without a slash at their end, and a way may go back up.
    for part in os(decoded(path)).components() {
        match part {
            Component::ParentDir => {
                plain.pop();
            }
            Component::CurDir => {}
            Component::Prefix(_) | Component::RootDir | Component::Normal(_) => plain.push(part),
        }
    }
    Some(plain)
}

/// The bytes that a text stands for, `%20` and the like taken for what they mean.
fn decoded(text: &str) -> Vec<u8> {
    let digit = |byte: u8| char::from(byte).to_digit(16);
    let mut bytes = Vec::with_capacity(text.len());
    let mut left = text.as_bytes();
    while let [first, others @ ..] = left {
        let coded = match others {
            [high, low, ..] if *first == b'%' => digit(*high).zip(digit(*low)),
            _ => None,
        };
        left = if coded.is_some() { others.get(2..).unwrap_or_default() } else { others };
        bytes.push(coded.map_or(*first, |(high, low)| (high * 16 + low) as u8));
    }
    bytes
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

/// The address of a path; what is no file of this machine has its own.
#[must_use]
pub fn of(path: &Path) -> String {
    if !path.is_absolute() {
        return path.to_string_lossy().into_owned();
    }
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
