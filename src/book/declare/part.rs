//! `spec` and `part`.

use super::clock::{amounts, use_amounts};
use super::dated::stated;
use super::place::quantity_here;
use super::told::Told;
use super::{Declared, enter, named, price, properties, text_value};
use crate::book::clauses::{client_here, kind_here};
use crate::book::model::{LostLimits, Part, PartId, Spec, SpecId};
use crate::book::names::Thing;
use crate::book::single::one;
use crate::book::trouble::{Trouble, What};
use crate::book::{Book, Named};
use crate::source::Span;
use crate::syntax::Cursor;

pub(super) fn new_part(book: &mut Book, named: Named) -> Thing {
    let thing = Thing::Part(PartId::from(book.parts.len()));
    enter(book, &named.name, thing, named.declared);
    book.parts.push(Part {
        named,
        lost: LostLimits::default(),
        kind: None,
        spec: None,
        serial: String::new(),
        opening: Vec::new(),
        opening_new: false,
        made: None,
        serviced: None,
        fitted: None,
        valid_until: None,
        withheld: false,
        tags: Vec::new(),
        price: None,
        paid: false,
        owner: None,
    });
    thing
}

/// The kind after a part's name; `false` when the rest of the line cannot be read for want of it.
pub(super) fn part_kind(book: &mut Book, id: PartId, cur: &mut Cursor<'_>) -> bool {
    let next = cur.peek().map_or("", |word| cur.str(word));
    if super::names_of("part").contains(&next.to_ascii_lowercase().as_str()) {
        // The kind is left out: said where it should stand, and the properties are read.
        let here = cur.here();
        book.trouble(Span::new(here.file, here.start, here.start), What::NameMissing("kind of part"));
        return true;
    }
    match kind_here(cur, &book.names) {
        Ok(kind) => {
            book.parts[id].kind = Some(kind);
            true
        }
        Err(trouble) => {
            let unknown = matches!(trouble.what, What::NameUnknown { .. });
            book.troubles.push(trouble);
            cur.bump();
            unknown
        }
    }
}

pub(super) fn part_property(book: &mut Book, id: PartId, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    if cur.take_keyword("spec") {
        let kind = book.parts[id].kind;
        let Some(word) = cur.peek() else {
            return Err(Trouble { span: cur.here(), what: What::NameMissing("spec") });
        };
        let text = cur.str(word);
        let Some(kind) = kind else {
            // The kind is unknown already; one mistake, one message.
            cur.bump();
            return Ok(true);
        };
        let Some(spec) = book.names.spec(kind, text) else {
            let specs = book.specs.iter().filter(|spec| spec.kind == kind).map(|spec| &*spec.named.name);
            let near = crate::book::names::nearest(text, specs);
            return Err(Trouble { span: cur.span(word), what: What::NameUnknown { wanted: "spec", near } });
        };
        cur.bump();
        book.parts[id].spec = Some(spec);
    } else if cur.take_keyword("serial") {
        book.parts[id].serial = text_value(cur, "serial")?;
    } else if cur.take_keyword("opening") {
        if cur.take_keyword("new") {
            book.parts[id].opening_new = true;
        } else {
            book.parts[id].opening = use_amounts(cur, "opening")?;
        }
    } else if cur.take_keyword("made") {
        book.parts[id].made = Some(stated(cur, "made")?);
    } else if cur.take_keyword("serviced") {
        book.parts[id].serviced = Some(stated(cur, "serviced")?);
    } else if cur.take_keyword("fitted") {
        book.parts[id].fitted = Some(stated(cur, "fitted")?);
    } else if cur.take_keyword("valid-until") {
        book.parts[id].valid_until = Some(stated(cur, "valid-until")?);
    } else if cur.take_keyword("tag") {
        let tag = tag(book, cur)?;
        book.parts[id].tags.push(tag);
    } else if cur.take_keyword("price") {
        book.parts[id].price = Some(price(book, cur)?);
    } else if cur.take_keyword("client") {
        book.parts[id].owner = Some(client_here(cur, &book.names)?);
    } else if cur.take_keyword("paid") {
        book.parts[id].paid = true;
    } else {
        return Ok(false);
    }
    Ok(true)
}

/// A property of a part that is told with two values: neither is known, nor what hangs on it.
pub(super) fn told_twice(book: &mut Book, id: PartId, text: &str) {
    let part = &mut book.parts[id];
    match text.split(' ').next() {
        Some("opening") => {
            part.opening.clear();
            part.opening_new = false;
        }
        Some("price") => part.price = None,
        Some("client") => part.owner = None,
        Some("spec") => part.spec = None,
        _ => {}
    }
}

fn tag(
    book: &Book,
    cur: &mut Cursor<'_>,
) -> Result<(crate::vocabulary::QuantityId, crate::book::entry::Item), Trouble> {
    let quantity = quantity_here(book, cur)?;
    cur.bump();
    let item = one(cur, book.vocabulary.get(quantity).dimension)?;
    Ok((quantity, item))
}

/// A spec's name, kind and properties. Specs are entered when first met: parts are filled after all names.
pub(super) fn read_spec(book: &mut Book, one: &Declared<'_>) {
    let mut cur = one.head();
    cur.bump();
    let Some(named) = named(book, &mut cur, "spec") else { return };
    let at = named.declared;
    if !cur.take_keyword("of") {
        book.trouble(cur.here(), What::PropertyValue { property: "spec", wants: "`of` and a kind" });
        book.names.refuse(&named.name);
        return;
    }
    let kind = match kind_here(&mut cur, &book.names) {
        Ok(kind) => kind,
        Err(trouble) => {
            book.troubles.push(trouble);
            book.names.refuse(&named.name);
            return;
        }
    };
    let id = SpecId::from(book.specs.len());
    if let Err(first) = book.names.add_spec(kind, &named.name, id, at) {
        book.trouble(at, What::NameTwice(Some(first)));
        return;
    }
    book.specs.push(Spec {
        named,
        lost: LostLimits::default(),
        kind,
        price: None,
        life: Vec::new(),
        valid: Vec::new(),
        tags: Vec::new(),
    });
    let mut told = Told::default();
    properties(book, &mut cur, ("spec", &mut told), &mut |book, cur| spec_property(book, id, cur));
    for mut line in one.under() {
        properties(book, &mut line, ("spec", &mut told), &mut |book, cur| spec_property(book, id, cur));
    }
    if told.is_lost("price") {
        book.specs[id].price = None;
    }
    for text in one.lost_lines().chain(told.untold()) {
        book.specs[id].lost.lose(text, "spec");
    }
}

fn spec_property(book: &mut Book, id: SpecId, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    if cur.take_keyword("price") {
        book.specs[id].price = Some(price(book, cur)?);
    } else if cur.take_keyword("life") {
        let mut life = Vec::new();
        let read = amounts(cur, "life", &mut life);
        book.specs[id].life.extend(life);
        read?;
    } else if cur.take_keyword("valid") {
        let valid = super::dated::valid(cur)?;
        book.specs[id].valid.extend(valid);
    } else if cur.take_keyword("tag") {
        let tag = tag(book, cur)?;
        book.specs[id].tags.push(tag);
    } else {
        return Ok(false);
    }
    Ok(true)
}
