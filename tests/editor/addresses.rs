//! Addresses of files (RFC 8089, RFC 3986): which path each names, and which name no file of this machine.

use std::path::{Path, PathBuf};
use stringline::editor::address::{is_file, of, path};

#[cfg(unix)]
#[test]
fn one_file_has_several_addresses() {
    for address in [
        "file:///a/b.sline",
        // RFC 8089, appendix B: the shortest form; section 2: the name of this machine.
        "file:/a/b.sline",
        "file://localhost/a/b.sline",
        // RFC 3986, section 3.1: a scheme in any case; section 6.2.2: dot segments and needless codes.
        "FILE:///a/b.sline",
        "file:///a/x/../b.sline",
        "file:///a/./b.sline",
        "file:///%61/b%2Esline",
        "file:///../a/b.sline",
    ] {
        assert_eq!((path(address), is_file(address)), (PathBuf::from("/a/b.sline"), true), "{address}");
    }
    assert_eq!(path("file:///a/b/"), Path::new("/a/b"));
}

/// Section 2.1 of RFC 3986: two hexadecimal digits, and nothing else, stand for a byte.
#[cfg(unix)]
#[test]
fn what_is_no_code_stays_as_it_is() {
    for (address, wanted) in [
        ("file:///a%+5", "/a%+5"),
        ("file:///a%5", "/a%5"),
        ("file:///a%", "/a%"),
        ("file:///a%G0", "/a%G0"),
        ("file:///a%C3%A9", "/a\u{E9}"),
    ] {
        assert_eq!(path(address), Path::new(wanted), "{address}");
    }
}

/// The files of another machine are not those of the same name here.
#[test]
fn what_names_no_file_here_is_a_text_of_its_own() {
    for address in
        ["file://host/x/day.sline", "file:x.sline", "file://", "draft:1", "http://localhost/a.sline"]
    {
        assert!(!is_file(address), "{address}");
        assert_eq!(path(address), Path::new(address));
        assert!(!path(address).is_absolute());
        assert_eq!(of(&path(address)), address);
    }
}
