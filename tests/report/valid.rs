//! Every page is valid HTML as a browser's own parser sees it (html5ever, the parser of the WHATWG standard's algorithm), and
//! nothing typed adds an element, an attribute or a live link to it.

use super::payloads::{self, PAYLOADS};
use super::{Demo, pages};
use html5ever::tendril::TendrilSink as _;
use markup5ever_rcdom::{Handle, NodeData, RcDom};
use std::fmt::Write as _;
use stringline::audience::{self, Reader};
use stringline::report::Page;
use stringline::report::{self, Own};
use stringline::source::{Memory, World as _};

fn parse(html: &str) -> RcDom {
    html5ever::parse_document(RcDom::default(), html5ever::ParseOpts::default()).one(html)
}

/// The pages of a book, and the hand-over book of each of its cars with everything in it.
pub fn of_files(files: &[(String, String)]) -> Vec<Page> {
    let texts: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    let compiled = stringline::compile(&Memory::new(&texts, Demo.now())).unwrap();
    let mut all = pages(&compiled);
    for car in compiled.book.cars.keys() {
        let mut purchase = audience::purchase(&compiled, car, None);
        (purchase.bench, purchase.prices) = (true, true);
        let view = report::handover(&audience::cut(&compiled, &Reader::Buyer(purchase)), &purchase);
        all.push(
            report::handover_page(&view, &format!("handover-{}.html", car.number()), &Own::new()).unwrap(),
        );
    }
    all
}

#[test]
fn every_page_is_valid_html() {
    let mut all = of_files(&payloads::demo());
    all.extend(of_files(&payloads::reference()));
    for page in all {
        let dom = parse(&page.html);
        let errors = dom.errors.borrow();
        assert!(errors.is_empty(), "{}: {errors:?}", page.name);
    }
}

/// The elements of a page with their attributes' names, those of notes left out; and every place a link could lead.
fn skeleton(node: &Handle, shape: &mut String, targets: &mut Vec<String>, in_note: bool) {
    let mut in_note = in_note;
    if let NodeData::Element { name, attrs, .. } = &node.data {
        let attrs = attrs.borrow();
        let value =
            |key: &str| attrs.iter().find(|one| &*one.name.local == key).map(|one| one.value.to_string());
        let note = value("class").is_some_and(|class| class.split(' ').any(|one| one == "note"));
        if !in_note {
            let _ = write!(shape, "<{}", name.local);
            for one in attrs.iter() {
                let _ = write!(shape, " {}", one.name.local);
            }
            shape.push('>');
        }
        // A note may have Markdown's own elements, and no others.
        let plain = [
            "p",
            "a",
            "em",
            "strong",
            "code",
            "pre",
            "ul",
            "ol",
            "li",
            "blockquote",
            "hr",
            "br",
            "del",
            "span",
        ];
        let tables = ["table", "thead", "tbody", "tr", "th", "td"];
        if in_note {
            assert!(plain.iter().chain(&tables).any(|one| name.local == **one), "<{}> in a note", name.local);
        }
        for one in attrs.iter() {
            let key = &*one.name.local;
            assert!(!key.starts_with("on") && key != "style" && key != "srcdoc", "{key}={}", one.value);
            if ["href", "src", "action", "formaction", "data", "poster", "background", "cite"].contains(&key)
            {
                targets.push(one.value.to_string());
            }
        }
        in_note |= note;
    }
    for child in node.children.borrow().iter() {
        skeleton(child, shape, targets, in_note);
    }
    if let NodeData::Element { .. } = &node.data
        && !in_note
    {
        shape.push('/');
    }
}

fn shape(page: &Page) -> String {
    let dom = parse(&page.html);
    assert!(dom.errors.borrow().is_empty(), "{}: {:?}", page.name, dom.errors.borrow());
    let (mut shape, mut targets) = (String::new(), Vec::new());
    skeleton(&dom.document, &mut shape, &mut targets, false);
    for target in targets {
        // As a browser reads it: blanks at the ends and tabs and line ends inside mean nothing.
        let target: String =
            target.trim_matches(|c: char| c <= ' ').chars().filter(|c| !"\t\r\n".contains(*c)).collect();
        let scheme = target.split_once(':').map(|(scheme, _)| scheme.to_ascii_lowercase());
        let scheme = scheme.filter(|scheme| !scheme.contains(['/', '?', '#']));
        assert!(
            scheme.as_deref().is_none_or(|scheme| ["http", "https", "mailto"].contains(&scheme)),
            "{}: {target:?}",
            page.name
        );
        assert!(!target.starts_with("//") && !target.starts_with('\\'), "{}: {target:?}", page.name);
    }
    shape
}

/// The same words without a sign: a title that names a client is spoken of, whatever stands around the words.
fn words_of(payload: &str) -> String {
    payload.chars().map(|c| if c.is_alphanumeric() || c == '-' { c } else { ' ' }).collect()
}

#[test]
fn a_payload_in_every_free_text_changes_no_element() {
    let reference = payloads::reference();
    for payload in PAYLOADS {
        let words = words_of(payload);
        let plain = of_files(&payloads::typed(&reference, &words).0);
        let shapes: Vec<(String, String)> =
            plain.iter().map(|page| (page.name.clone(), shape(page))).collect();
        let (files, slots) = payloads::typed(&reference, payload);
        assert!(slots > 40, "{slots} places");
        let pages = of_files(&files);
        assert_eq!(pages.len(), shapes.len(), "{payload}");
        for (page, (name, plain)) in pages.iter().zip(&shapes) {
            assert_eq!(&page.name, name);
            assert!(shape(page) == *plain, "{payload} changes the elements of {name}");
        }
    }
}

#[test]
fn a_payload_in_every_free_text_of_the_demo_changes_no_element() {
    let demo = payloads::demo();
    let all = PAYLOADS.join(" ");
    let plain = of_files(&payloads::typed(&demo, &words_of(&all)).0);
    let (files, slots) = payloads::typed(&demo, &all);
    assert!(slots > 300, "{slots} places");
    for (page, plain) in of_files(&files).iter().zip(&plain) {
        assert_eq!(page.name, plain.name);
        assert!(shape(page) == shape(plain), "the elements of {} change", page.name);
    }
}
