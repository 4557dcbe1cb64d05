//! Which problems of the fold only follow from a line that was refused: that line has its message, and one is enough.
//!
//! The rule. What a refused line may have said is in doubt from it on: the parts it names, what may be fitted to its car, whose that car is,
//! and what is stated there of its quantity. A message about one of these, on a line after it, follows from it. What cannot be read of a
//! refused line, its car or its quantity, may have been any.
//!
//! Must not know the words of any check.

use super::{Context, told};
use crate::book::What;
use crate::book::entry::{EntryId, Head, Verb};
use crate::book::model::{CarId, PartId};
use crate::book::names::{folded, is_mark};
use crate::costs::problem::{self, Unshared};
use crate::diagnostics::Diagnostic;
use crate::history::order::Rank;
use crate::history::problem::Problem;
use crate::source::{FileId, Span};
use crate::vocabulary::QuantityId;
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::BTreeMap;

/// More refused lines than this are a broken file, not slips; what follows from those is not told apart.
const MOST: usize = 1000;

/// What refused lines name.
pub struct Doubt {
    /// Lower-case words of refused lines and of blocks whose head was refused: the first place of each, by file.
    words: FxHashMap<String, Vec<(FileId, u32)>>,
    /// Names of kinds whose own declaration was refused.
    kinds: FxHashSet<String>,
    /// By car, the first rank of a refused line that would have put a part on.
    fits: FxHashMap<CarId, Rank>,
    /// Parts that an earlier problem left in no known place.
    astray: FxHashSet<PartId>,
    /// Cars with two sessions of one label.
    doubled: FxHashSet<CarId>,
    /// Cars with lines after their sale: what those do wrong besides is no news.
    gone: FxHashMap<CarId, Rank>,
    /// By car, the first rank of a refused line that would have sold it.
    sales: FxHashMap<CarId, Rank>,
    /// By car and quantity, each `None` where nobody can read it, the first rank of a refused line that would have stated a value.
    stated: FxHashMap<(Option<CarId>, Option<QuantityId>), Rank>,
    /// By car, where it is first written for somebody whose it is not: with it may have gone what was sold apart from it.
    claimed: FxHashMap<CarId, Rank>,
    /// Where lines with a mistake begin.
    wrong: FxHashSet<(FileId, u32)>,
}

impl Doubt {
    /// Looks over the refused lines and the problems that are causes themselves.
    #[must_use]
    pub fn of(cx: &Context<'_>) -> Self {
        let mut doubt = Self {
            words: FxHashMap::default(),
            kinds: FxHashSet::default(),
            fits: FxHashMap::default(),
            astray: FxHashSet::default(),
            doubled: FxHashSet::default(),
            gone: FxHashMap::default(),
            sales: FxHashMap::default(),
            stated: FxHashMap::default(),
            claimed: FxHashMap::default(),
            wrong: cx.book.troubles.iter().take(MOST).filter_map(|one| line_of(cx, one.span)).collect(),
        };
        let mut blocks: FxHashSet<(FileId, u32)> = FxHashSet::default();
        let stands = standing(cx);
        for trouble in cx.book.troubles.iter().take(MOST) {
            let line = line_of(cx, trouble.span).filter(|line| stands.contains(line));
            match line {
                // Of a line that is believed in spite of its mistake, only what the mistake is in is lost.
                Some((_, from)) => doubt.lose(trouble.span.file, from, cx.text(trouble.span)),
                None => doubt.refused(cx, trouble.span, matches!(trouble.what, What::NoCar(_)), &mut blocks),
            }
        }
        // A line whose time is none is as good as refused.
        for lost in cx.history.order.lost.iter().take(MOST) {
            doubt.refused(cx, cx.entry(*lost).span(), false, &mut blocks);
        }
        if cx.book.troubles.is_empty() && cx.history.order.lost.is_empty() {
            doubt.problems(cx);
            return doubt;
        }
        for (index, entry) in cx.book.entries.iter_enumerated() {
            // A verb that cannot be read may have stated something.
            if entry.broken && (entry.verb.has_values() || entry.verb == Verb::Note) {
                let first = doubt.stated.entry((cx.car_of(index), entry.quantity)).or_insert(Rank::END);
                *first = cx.rank(index).min(*first);
            }
            if entry.broken
                && entry.verb == Verb::Sell
                && let Some(car) = cx.car_of(index)
            {
                let first = doubt.sales.entry(car).or_insert(Rank::END);
                *first = cx.rank(index).min(*first);
            }
            if entry.broken && matches!(entry.verb, Verb::Fit | Verb::Swap | Verb::Move) {
                let rank = cx.rank(index);
                // Under a head that names no car it may have been any of them.
                let all = cx.book.cars.keys();
                let cars = cx.car_of(index).map_or_else(|| all.collect(), |car| vec![car]);
                for car in cars {
                    let first = doubt.fits.entry(car).or_insert(rank);
                    *first = rank.min(*first);
                }
            }
        }
        doubt.problems(cx);
        doubt
    }

    fn problems(&mut self, cx: &Context<'_>) {
        for problem in &cx.history.problems {
            match problem {
                Problem::DoesNotFit { part, .. }
                | Problem::PlaceNeeded { part, .. }
                | Problem::KindDiffers { part, .. } => {
                    self.astray.insert(*part);
                }
                Problem::SoldCarTouched { car, sale, .. } => {
                    self.gone.insert(*car, cx.rank(*sale));
                }
                Problem::NotTheOwner { head, car, .. } => {
                    let at = cx.book.heads.get(*head).map_or(Rank::END, |head| cx.rank(head.first));
                    let first = self.claimed.entry(*car).or_insert(at);
                    *first = at.min(*first);
                }
                Problem::SessionTwice { entry, .. } => self.doubled.extend(cx.car_of(*entry)),
                _ => {}
            }
        }
    }

    fn refused(
        &mut self,
        cx: &Context<'_>,
        span: Span,
        missing_car: bool,
        blocks: &mut FxHashSet<(FileId, u32)>,
    ) {
        let Some(file) = cx.files.get(span.file) else { return };
        let text = &*file.text;
        let before = text.get(..span.start as usize).unwrap_or_default();
        let mut from = before.rfind('\n').map_or(0, |at| at + 1);
        let margin = |from: usize| text.get(from..).is_some_and(|rest| !rest.starts_with([' ', '\t']));
        while missing_car && from > 0 && !margin(from) {
            from = text.get(..from - 1).and_then(|above| above.rfind('\n')).map_or(0, |at| at + 1);
        }
        if !blocks.insert((span.file, from as u32)) {
            return;
        }
        let whole = margin(from);
        for (number, line) in text.get(from..).unwrap_or_default().lines().enumerate() {
            if number > 0 && (!whole || !(line.starts_with([' ', '\t']) || line.is_empty())) {
                break;
            }
            if number == 0 && line.get(..4).is_some_and(|word| word.eq_ignore_ascii_case("kind")) {
                self.kinds.extend(words(line).nth(1));
                continue;
            }
            self.lose(span.file, from as u32, line);
        }
    }

    /// Notes the words of a text that was not believed, of the line that starts at `from`. Lines come in no order.
    fn lose(&mut self, file: FileId, from: u32, text: &str) {
        for word in words(text) {
            let places = self.words.entry(word).or_default();
            match places.iter_mut().find(|(known, _)| *known == file) {
                Some((_, first)) => *first = from.min(*first),
                None => places.push((file, from)),
            }
        }
    }

    /// Whether a refused line names it, above `at` or in another file.
    #[must_use]
    pub fn names(&self, word: &str, at: Span) -> bool {
        let places = self.words.get(&folded(word));
        places.is_some_and(|places| places.iter().any(|(file, from)| *file != at.file || *from < at.start))
    }

    /// Whether a problem of the costs is nothing but that: who ran then is not known while a head that may be of then has a mistake. Of a day that
    /// cannot be read the year is that of a neighbour.
    #[must_use]
    pub fn explains_cost(&self, cx: &Context<'_>, problem: &problem::Problem) -> bool {
        let problem::Problem::SplitKeyEmpty { entry, why: Unshared::NobodyRan | Unshared::TheseDidNotRun } =
            *problem
        else {
            return false;
        };
        let Some(year) = cx.book.head(cx.entry(entry)).map(|head| head.date.year()) else { return false };
        let near = |head: &&Head| !head.is_dated() || (head.date.year() - year).abs() <= 1;
        let heads = cx.book.heads.iter().filter(near);
        heads.filter_map(|head| line_of(cx, head.span)).any(|line| self.wrong.contains(&line))
    }

    /// Whether a refused line names it, wherever.
    #[must_use]
    pub fn names_anywhere(&self, word: &str) -> bool {
        self.words.contains_key(&folded(word))
    }

    /// Whether the problem is nothing but the consequence of a line that has its message.
    #[must_use]
    pub fn explains(&self, cx: &Context<'_>, problem: &Problem) -> bool {
        // Where its zone cannot be read, that has its message.
        if let Problem::ClockOffsetWrong { typed, .. } = *problem {
            return told::zone_unread(cx, typed);
        }
        let gone = |entry: EntryId| {
            let sale = cx.car_of(entry).and_then(|car| self.gone.get(&car));
            sale.is_some_and(|sale| *sale < cx.rank(entry))
        };
        // What a refused line would have sold may be anybody's.
        let unsold = |car: CarId, at: Rank| self.sales.get(&car).is_some_and(|sale| *sale < at);
        let named =
            |entry: EntryId, part: PartId| self.names(cx.part(part), cx.entry(entry).span()) || gone(entry);
        match *problem {
            Problem::PullNotThere { entry, part, .. } => named(entry, part) || self.astray.contains(&part),
            Problem::StillFitted { entry, part, .. }
            | Problem::PartInTwoPlaces { entry, part, .. }
            | Problem::FailedPartBack { entry, part, .. }
            | Problem::QuarantinedPartFitted { entry, part, .. }
            | Problem::PartAway { entry, part, .. }
            | Problem::HereAlready { entry, part, .. }
            | Problem::NotAway { entry, part }
            | Problem::NotQuarantined { entry, part } => named(entry, part),
            Problem::NotOurs { entry, part, .. } => {
                named(entry, part) || cx.car_of(entry).is_some_and(|car| unsold(car, cx.rank(entry)))
            }
            Problem::CorrectionMisses { entry, .. } => {
                let (car, quantity) = (cx.car_of(entry), cx.entry(entry).quantity);
                let mut may = [(car, quantity), (car, None), (None, quantity), (None, None)].into_iter();
                may.any(|key| self.stated.get(&key).is_some_and(|at| *at < cx.rank(entry)))
            }
            Problem::PlaceOccupied { entry, holds, .. } => named(entry, holds),
            Problem::RetiredPartFitted { entry, sold, .. } => {
                let claimed = |car: CarId| self.claimed.get(&car).is_some_and(|at| *at < cx.rank(entry));
                let other = |car: CarId| unsold(car, cx.rank(entry)) || sold && claimed(car);
                gone(entry) || cx.car_of(entry).is_some_and(other)
            }
            Problem::NotTheOwner { head, car, .. } => {
                cx.book.heads.get(head).is_some_and(|head| unsold(car, cx.rank(head.first)))
            }
            // The head of the line may have named the new owner.
            Problem::SoldCarTouched { entry, .. } => {
                let head = cx.book.head(cx.entry(entry)).and_then(|head| line_of(cx, head.span));
                head.is_some_and(|head| self.wrong.contains(&head))
            }
            Problem::DoesNotFit { part, .. } | Problem::PlaceNeeded { part, .. } => {
                self.kinds.contains(&folded(cx.kind_of(part)))
            }
            Problem::SessionUnknown { entry, .. } => {
                let extra = cx.book.extra(cx.entry(entry));
                let label = extra.and_then(|extra| extra.after.or(extra.during));
                label.is_some_and(|label| self.names(cx.text(label), label))
                    || cx.car_of(entry).is_some_and(|car| self.doubled.contains(&car))
            }
            Problem::ClicksWithoutDatum { entry, part: None, .. } => {
                // A part whose kind could not be read may be the one that says from where.
                if cx.book.parts.iter().any(|part| part.kind.is_none()) {
                    return true;
                }
                let fit = cx.car_of(entry).and_then(|car| self.fits.get(&car));
                fit.is_some_and(|rank| *rank < cx.rank(entry))
            }
            _ => false,
        }
    }
}

/// Checks that ask whether a number is a slip, and those that would say once more that it is unlike the others.
const ASKS: [&str; 3] = ["fraction-without-whole", "cylinder-apart", "order-unclear"];
const UNLIKE: [&str; 5] = [
    "found-has-drifted",
    "repeats-disagree",
    "set-and-left-differ",
    "value-far-from-history",
    "value-implausible",
];

/// Messages without those that only say again of a number that it is unlike, where it is asked whether it was meant.
#[must_use]
pub fn once(all: Vec<Diagnostic>) -> Vec<Diagnostic> {
    let place = |message: &Diagnostic| message.at.as_ref().map(|mark| mark.span);
    let asked = all.iter().filter(|one| ASKS.contains(&one.check)).filter_map(place);
    let asked: BTreeMap<(FileId, u32), u32> = asked.map(|span| ((span.file, span.start), span.end)).collect();
    let inside = |span: Span| {
        let before = asked.range(..=(span.file, span.start)).next_back();
        before.is_some_and(|((file, _), end)| *file == span.file && span.end <= *end)
    };
    let follows = |one: &Diagnostic| UNLIKE.contains(&one.check) && place(one).is_some_and(inside);
    all.into_iter().filter(|one| !follows(one)).collect()
}

/// Where the first word of a trouble's line stands.
fn line_of(cx: &Context<'_>, span: Span) -> Option<(FileId, u32)> {
    let text = &*cx.files.get(span.file)?.text;
    let from = text.get(..span.start as usize)?.rfind('\n').map_or(0, |at| at + 1);
    let line = text.get(from..)?;
    let indent = line.len() - line.trim_start_matches([' ', '\t']).len();
    Some((span.file, (from + indent) as u32))
}

/// The lines with a mistake that are believed all the same.
fn standing(cx: &Context<'_>) -> FxHashSet<(FileId, u32)> {
    let troubles = cx.book.troubles.iter().take(MOST);
    let wrong: FxHashSet<_> = troubles.filter_map(|trouble| line_of(cx, trouble.span)).collect();
    let believed = cx.book.entries.iter().filter(|entry| !entry.broken);
    believed.map(|entry| (entry.file, entry.start)).filter(|line| wrong.contains(line)).collect()
}

fn words(line: &str) -> impl Iterator<Item = String> {
    // A mark that stays on its letter in composed text belongs to the word.
    let words =
        line.split(|each: char| !(each.is_alphanumeric() || matches!(each, '-' | '.') || is_mark(each)));
    words.filter(|word| !word.is_empty() && word.len() < 64).take(64).map(folded)
}
