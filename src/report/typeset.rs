//! Numbers as they are set in print: real minus signs, thousands apart.
//!
//! Must not know any page.

/// A text with a real minus (U+2212) before every number that has a hyphen there. Ledgers take either.
#[must_use]
pub fn minus(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut before = ' ';
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        let sign = c == '-'
            && (before.is_whitespace() || before == '(')
            && rest.peek().is_some_and(char::is_ascii_digit);
        out.push(if sign { '\u{2212}' } else { c });
        before = c;
    }
    out
}

/// Amounts with a narrow no-break space (U+202F) between every three digits, where there are five or more before the point (four are read
/// at one glance: ISO 80000-1, 7.3.1, leaves them together), and real minus signs. For texts that are amounts, never for names.
#[must_use]
pub fn digits(text: &str) -> String {
    let grouped = |word: &str| {
        let body = word.trim_start_matches(['-', '+', '\u{2212}', '(']);
        let sign = word.get(..word.len() - body.len()).unwrap_or_default();
        let whole = body.bytes().take_while(u8::is_ascii_digit).count();
        let (before, after) = body.split_at(whole);
        let rest = after.strip_prefix('.').unwrap_or(after).trim_end_matches([',', ')', ';', '.']);
        if whole < 5 || !rest.bytes().all(|byte| byte.is_ascii_digit()) {
            return word.to_owned();
        }
        let mut out = sign.to_owned();
        for (index, digit) in before.chars().enumerate() {
            if index > 0 && (whole - index) % 3 == 0 {
                out.push('\u{202f}');
            }
            out.push(digit);
        }
        out + after
    };
    minus(&text.split(' ').map(grouped).collect::<Vec<_>>().join(" "))
}
