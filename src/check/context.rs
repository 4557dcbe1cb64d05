//! What a check may look at, and the words that many checks need.
//!
//! Must not know any particular check.

use crate::book::entry::{Entry, EntryId, Flags, Item, ItemId};
use crate::book::model::{CarId, ClientId, JobId, PartId};
use crate::book::place::Place;
use crate::costs::Costs;
use crate::history::Facts;
use crate::history::grain;
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::rules::Scrutiny;
use crate::rules::known::Known;
use crate::source::{FileId, Span};
use crate::units::{DimensionId, number};
use crate::vocabulary::{Quantity, QuantityId};
use crate::words;
use jiff::civil::Date;

/// Everything a check may look at.
#[derive(Debug, Clone, Copy)]
pub struct Context<'a> {
    /// The texts, the book, its fold.
    pub facts: Facts<'a>,
    /// What everything cost.
    pub costs: &'a Costs,
    /// What was read for rules so far.
    pub known: &'a Known,
    /// Today in the shop's zone.
    pub today: Date,
}

impl<'a> std::ops::Deref for Context<'a> {
    type Target = Facts<'a>;

    fn deref(&self) -> &Facts<'a> {
        &self.facts
    }
}

impl<'a> Context<'a> {
    /// What rules are judged with.
    #[must_use]
    pub const fn scrutiny(&self) -> Scrutiny<'a> {
        Scrutiny { facts: self.facts, known: self.known }
    }

    /// The text under a span.
    #[must_use]
    pub fn text(&self, span: Span) -> &'a str {
        self.files.text(span)
    }

    /// The entry; indexes come from the book.
    #[must_use]
    pub fn entry(&self, index: EntryId) -> &'a Entry {
        &self.book.entries[index]
    }

    /// The item; indexes come from the book.
    #[must_use]
    pub fn item(&self, index: ItemId) -> &'a Item {
        &self.book.items[index]
    }

    /// The span of an item on its line: the number and, where it follows at once, its unit.
    #[must_use]
    pub fn item_span(&self, entry: EntryId, item: ItemId) -> Span {
        self.item(item).span(self.entry(entry).file)
    }

    /// The quantity; ids come from the book.
    #[must_use]
    pub fn quantity(&self, id: QuantityId) -> &'a Quantity {
        self.book.vocabulary.get(id)
    }

    /// A value as typed, with its unit: `70 N/mm`, `off`, `75W-90`.
    #[must_use]
    pub fn typed(&self, entry: EntryId, item: &Item) -> String {
        let digits = self.file_of(entry).map_or("", |file| self.text(self.whole(entry, item, file)));
        let unit = item.unit().get().shown();
        if item.has_value() && !unit.is_empty() {
            let space = if unit == "%" || unit == "°" { "" } else { " " };
            format!("{digits}{space}{unit}")
        } else {
            digits.to_owned()
        }
    }

    /// What was typed of a value, to the last number of a pair or triple.
    fn whole(&self, entry: EntryId, item: &Item, file: FileId) -> Span {
        let items = self.book.entries.get(entry).map_or(&[][..], |entry| self.book.items_of(entry));
        let from = items.iter().position(|one| one.start == item.start).unwrap_or(items.len());
        let further = |next: &&Item| next.is_further() && next.has_value();
        let rest = items.get(from + 1..).unwrap_or_default();
        let last =
            rest.iter().take_while(further).last().filter(|_| item.has_value() && !item.is(Flags::PART));
        last.map_or_else(|| item.span(file), |last| item.span(file).until(last.span(file).end))
    }

    /// What was typed first for a value that a `correct` line put right, with its unit.
    #[must_use]
    pub fn typed_first(&self, item: ItemId) -> Option<String> {
        let correction = self.book.corrections.get(&item)?;
        let file = self.file_of(correction.line)?;
        let mut digits = self.files.typed(correction.typed.span(file)).to_owned();
        // Of a pair, a triple and a fluid's grade and amount, all that was typed.
        let fluid = self
            .entry(correction.line)
            .quantity
            .is_some_and(|id| self.quantity(id).dimension == DimensionId::FLUID);
        for (more, item_now) in self.book.further(item).enumerate() {
            let typed =
                self.book.corrections.get(&item.plus(more + 1)).map_or(item_now, |further| &further.typed);
            digits.push(if fluid { ' ' } else { '/' });
            digits.push_str(self.files.typed(typed.span(file)));
        }
        let unit = correction.typed.unit().get().shown();
        Some(format!("{digits} {unit}").trim_end().to_owned())
    }

    /// The file of an entry; of none, where it is not known.
    fn file_of(&self, entry: EntryId) -> Option<FileId> {
        self.book.entries.get(entry).map(|entry| entry.file)
    }

    /// What a value in SI is multiplied by to be in the unit of an entry's item.
    fn per_si(&self, entry: EntryId, item: &Item) -> f64 {
        self.file_of(entry).map_or(f64::NAN, |file| grain::per_si(self.files, file, item))
    }

    /// A difference of SI values in the unit and precision of an entry's item, with the unit.
    #[must_use]
    pub fn difference_like(&self, si: f64, entry: EntryId, item: &Item) -> String {
        self.file_of(entry).map_or_else(String::new, |file| self.difference_in(si, file, item))
    }

    /// The same in the unit and precision of an item of a file.
    #[must_use]
    pub fn difference_in(&self, si: f64, file: FileId, item: &Item) -> String {
        let text = number::format(si * grain::per_si(self.files, file, item), item.decimals);
        let symbol = item.unit().get().shown();
        if symbol.is_empty() { text } else { format!("{text} {symbol}") }
    }

    /// An SI value in the unit of an entry's item, with as many decimals as it takes.
    #[must_use]
    pub fn value_like(&self, si: f64, entry: EntryId, item: &Item) -> String {
        let unit = item.unit().get();
        let size = if unit.offset == 0.0 { si * self.per_si(entry, item) } else { unit.from_si(si) };
        // A sum of fractions has more decimals than its last step: 1/4 and 1/8 turn make 0.375.
        let most = item.decimals.max(3);
        let exact = |decimals: &u8| {
            let shown = number::format(size, *decimals).parse::<f64>().unwrap_or(f64::NAN);
            (shown - size).abs() <= 1e-9 * size.abs().max(1.0)
        };
        let decimals = (item.decimals..most).find(exact).unwrap_or(most);
        let text = number::format(size, decimals);
        let symbol = unit.shown();
        if symbol.is_empty() { text } else { format!("{text} {symbol}") }
    }

    /// A value as typed, and for clicks the end they are counted from where the line says it: `9 click from full-soft`.
    #[must_use]
    pub fn typed_from(&self, entry: EntryId, item: &Item) -> String {
        let typed = self.typed(entry, item);
        let from = self.book.entries.get(entry).and_then(|entry| self.book.extra(entry));
        match from.and_then(|extra| extra.from_hard) {
            Some(true) => format!("{typed} from full-hard"),
            Some(false) => format!("{typed} from full-soft"),
            None => typed,
        }
    }

    /// The date an entry stands under.
    #[must_use]
    pub fn date(&self, entry: impl Into<Option<EntryId>>) -> Option<Date> {
        self.history.order.date(self.book, entry.into()?)
    }

    /// The car an entry stands under.
    #[must_use]
    pub fn car_of(&self, entry: EntryId) -> Option<CarId> {
        self.book.head(self.book.entries.get(entry)?).and_then(|head| head.car)
    }

    /// An entry's rank in the order of the book.
    #[must_use]
    pub fn rank(&self, entry: EntryId) -> Rank {
        self.history.order.rank[entry]
    }

    /// "2026-03-21, line 34" (and the file where it is another than `from`'s); of no line, the car's declaration.
    #[must_use]
    pub fn when(&self, entry: impl Into<Option<EntryId>>, from: Span) -> String {
        let found = entry.into().and_then(|entry| Some((entry, self.book.entries.get(entry)?)));
        let Some((entry, entry_at)) = found else {
            return "the car's declaration".to_owned();
        };
        let date = self.date(entry).map_or_else(String::new, |date| format!("{date}, "));
        let line = self.files.line(entry_at.span());
        if entry_at.file == from.file {
            format!("{date}line {line}")
        } else {
            format!("{date}{}", words::place(self.files.path(entry_at.file), line))
        }
    }

    /// A car's name as typed.
    #[must_use]
    pub fn car(&self, car: CarId) -> &'a str {
        self.book.cars.get(car).map_or("?", |car| &car.named.typed)
    }

    /// A part's name as typed.
    #[must_use]
    pub fn part(&self, part: PartId) -> &'a str {
        self.book.parts.get(part).map_or("?", |part| &part.named.typed)
    }

    /// A job's name as typed.
    #[must_use]
    pub fn job(&self, job: JobId) -> &'a str {
        self.book.jobs.get(job).map_or("?", |job| &job.named.typed)
    }

    /// A job's name as typed, with the words it was opened by: `j-02 (gearbox seal weeps)`.
    #[must_use]
    pub fn job_words(&self, job: JobId) -> String {
        let title = self.book.jobs.get(job).map_or("", |job| &job.named.title);
        let name = self.job(job);
        if title.is_empty() || title == name { name.to_owned() } else { format!("{name} ({title})") }
    }

    /// A client's title.
    #[must_use]
    pub fn client(&self, client: ClientId) -> &'a str {
        self.book.clients.get(client).map_or("?", |client| &client.named.title)
    }

    /// A part's kind's name as typed.
    #[must_use]
    pub fn kind_of(&self, part: PartId) -> &'a str {
        let kind =
            self.book.parts.get(part).and_then(|part| part.kind.and_then(|kind| self.book.kinds.get(kind)));
        kind.map_or("part", |kind| &kind.named.typed)
    }

    /// A place as typed; empty for the whole car.
    #[must_use]
    pub fn place(&self, place: Place) -> String {
        self.book.place_word(place)
    }

    /// "camber LF", "fuel".
    #[must_use]
    pub fn slot(&self, quantity: QuantityId, place: Place) -> String {
        let name = &self.quantity(quantity).name;
        let place = self.place(place);
        if place.is_empty() { name.to_string() } else { format!("{name} {place}") }
    }

    /// "on bittern RR", "on the shelf".
    #[must_use]
    pub fn place_words(&self, there: Where) -> String {
        match there {
            Where::New => "not put anywhere yet".to_owned(),
            Where::Shelf => "on the shelf".to_owned(),
            Where::Car(car, place) if place == Place::ALL => format!("on {}", self.car(car)),
            Where::Car(car, place) => format!("on {} {}", self.car(car), self.place(place)),
            Where::Inside(part) => format!("in {}", self.part(part)),
            Where::Failed => "off, failed".to_owned(),
            Where::Quarantine => "in quarantine".to_owned(),
            Where::Scrapped => "scrapped".to_owned(),
            Where::Sold => "sold".to_owned(),
            Where::Lent => "lent".to_owned(),
            Where::Returned => "gone back to its owner".to_owned(),
        }
    }

    /// A gauge's resolution in SI as a difference, if it is stated.
    #[must_use]
    pub fn resolution(&self, entry: &Entry, item: &Item) -> Option<f64> {
        grain::resolution(self.book, self.files, entry, item)
    }

    /// How finely a reading can be told apart: its gauge's resolution, or its last digit.
    #[must_use]
    pub fn grain(&self, entry: &Entry, item: &Item) -> f64 {
        grain::grain(self.book, self.files, entry, item)
    }

    /// Whether an item is a plain number that was read or set (no dash, no text, no old value).
    #[must_use]
    pub fn is_number(item: &Item) -> bool {
        item.has_value() && !item.is(Flags::OLD)
    }
}
