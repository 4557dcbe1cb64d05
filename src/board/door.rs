//! Who is let in, and what for: reading requests with the token in their address, from pages that this program handed out itself.
//!
//! Must not know what is answered.

/// A request, as far as the door looks at it.
#[derive(Debug, Clone, Copy)]
pub struct Ask<'a> {
    /// `GET` and the like.
    pub method: &'a str,
    /// What is asked for: the path and what follows it.
    pub target: &'a str,
    /// The headers, each with its value.
    pub headers: &'a [(&'a str, &'a str)],
}

/// What a request wants.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Want {
    /// The page of this file name.
    Page(String),
    /// That page as soon as it is otherwise than the copy with this print.
    News {
        /// The file name.
        page: String,
        /// The print of the copy that stands there.
        seen: String,
    },
    /// What runs beside a copy.
    Script,
    /// How that looks.
    Style,
}

/// Why a request is not answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Refused {
    /// The status of HTTP (RFC 9110).
    pub status: u16,
    /// In words.
    pub reason: &'static str,
}

/// The way in.
#[derive(Debug, Clone)]
pub struct Door {
    token: String,
    port: u16,
}

const STRANGER: Refused =
    Refused { status: 403, reason: "this address was asked for by another page or under another name" };
const NOTHING: Refused = Refused { status: 404, reason: "there is nothing at this address" };

impl Door {
    /// Of a port, with the bytes of chance that nobody can guess.
    #[must_use]
    pub fn new(port: u16, chance: [u8; 16]) -> Self {
        Self { token: format!("{:032x}", u128::from_be_bytes(chance)), port }
    }

    /// Where a page is.
    #[must_use]
    pub fn address(&self, page: &str) -> String {
        format!("http://127.0.0.1:{}/{}/{page}", self.port, self.token)
    }

    /// What a request wants.
    ///
    /// # Errors
    /// Why it is not answered: it does not only read, comes from elsewhere, or has not the token.
    pub fn wants(&self, ask: &Ask<'_>) -> Result<Want, Refused> {
        if !matches!(ask.method, "GET" | "HEAD") {
            return Err(Refused { status: 405, reason: "pages are only read here" });
        }
        if !self.is_ours(ask.headers) {
            return Err(STRANGER);
        }
        let (token, rest) =
            ask.target.strip_prefix('/').and_then(|rest| rest.split_once('/')).ok_or(NOTHING)?;
        if !alike(token, &self.token) {
            return Err(NOTHING);
        }
        wanted(rest).ok_or(NOTHING)
    }

    /// Whether a request names this server, and no other page sent it: a name that somebody points here, or a page of another place, has its own.
    fn is_ours(&self, headers: &[(&str, &str)]) -> bool {
        let of = |name: &str| {
            headers
                .iter()
                .filter(|(head, _)| head.eq_ignore_ascii_case(name))
                .map(|(_, value)| *value)
                .collect()
        };
        let hosts: Vec<&str> = of("Host");
        let origins: Vec<&str> = of("Origin");
        let sites: Vec<&str> = of("Sec-Fetch-Site");
        let ours = |name: &str| {
            ["127.0.0.1", "localhost"]
                .iter()
                .any(|host| name.eq_ignore_ascii_case(&format!("{host}:{}", self.port)))
        };
        matches!(hosts.as_slice(), [host] if ours(host))
            && origins.iter().all(|origin| origin.strip_prefix("http://").is_some_and(ours))
            && sites.iter().all(|site| matches!(*site, "same-origin" | "none"))
    }
}

/// What stands behind the token.
fn wanted(rest: &str) -> Option<Want> {
    let (path, query) = rest.split_once('?').unwrap_or((rest, ""));
    match path {
        super::SCRIPT_NAME => Some(Want::Script),
        super::STYLE_NAME => Some(Want::Style),
        "" => Some(Want::Page("index.html".to_owned())),
        _ => match path.strip_prefix("news/") {
            Some(page) => {
                let seen = query
                    .strip_prefix("seen=")
                    .filter(|seen| seen.bytes().all(|byte| byte.is_ascii_hexdigit()))?;
                Some(Want::News { page: page_name(page)?, seen: seen.to_owned() })
            }
            None => page_name(path).map(Want::Page),
        },
    }
}

/// A name that a page can have.
fn page_name(name: &str) -> Option<String> {
    let plain =
        |byte: u8| byte.is_ascii_lowercase() || byte.is_ascii_digit() || matches!(byte, b'-' | b'.' | b'_');
    let page = name.len() <= 255 && name.strip_suffix(".html").is_some() && name.bytes().all(plain);
    page.then(|| name.to_owned())
}

/// Whether two texts are the same, in a time that does not tell where they differ.
fn alike(one: &str, other: &str) -> bool {
    let differ = one.bytes().zip(other.bytes()).fold(0, |all, (a, b)| all | (a ^ b));
    one.len() == other.len() && std::hint::black_box(differ) == 0
}
