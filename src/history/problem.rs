//! What folding the entries finds wrong, as facts without words; each is put into words by one file of `check`.
//!
//! Must not know messages or severities. Entries are indexes into [`crate::book::Book::entries`], items into `items`.

use crate::book::entry::{EntryId, HeadId, ItemId};
use crate::book::model::{CarId, ClientId, JobId, KindId, PartId};
use crate::book::place::Place;
use crate::book::range::Limits;
use jiff::civil::Date;

/// What is sold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sold {
    /// A car.
    Car(CarId),
    /// A part.
    Part(PartId),
}

/// A typed time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Typed {
    /// Of a head.
    Head(HeadId),
    /// Of a line, its first.
    Start(EntryId),
    /// Of a line, its second.
    End(EntryId),
}

/// An old value that is not what the book says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WrongOld {
    /// The old value typed.
    pub item: ItemId,
    /// The line the book's value stands on; the car's declaration where there is none.
    pub was: Option<EntryId>,
    /// The book's value there.
    pub was_item: ItemId,
    /// That value in SI, with the changes since it was typed.
    pub value: f64,
}

/// One problem. All are found once, at the line that made them.
#[derive(Debug, Clone, PartialEq)]
pub enum Problem {
    /// A time that the clock skips.
    ClockSkipped {
        /// The time.
        typed: Typed,
        /// The date on the clock.
        date: Date,
    },
    /// A time that the clock shows twice, and nothing says which.
    ClockTwice {
        /// The time.
        typed: Typed,
        /// The date on the clock.
        date: Date,
    },
    /// An offset behind a time that its zone does not have then.
    ClockOffsetWrong {
        /// The time.
        typed: Typed,
        /// The date on the clock.
        date: Date,
    },
    /// A time earlier than that of a line above, or of the head.
    TimesBackward {
        /// The line.
        entry: EntryId,
        /// The line above, or the head.
        before: Typed,
    },
    /// A part of a session that ends before it begins, or as it does.
    EndsFirst {
        /// The line.
        entry: EntryId,
    },
    /// No line before it states what a correction says was typed.
    CorrectionMisses {
        /// The `correct` line.
        entry: EntryId,
        /// What it says was typed.
        item: ItemId,
        /// The last line that states anything there.
        near: Option<EntryId>,
    },
    /// The time of a part of a session is before the session, or after it.
    OutsideSession {
        /// The line.
        entry: EntryId,
        /// The `run`.
        run: EntryId,
    },
    /// A part went on the car or came off it at a time at which the car ran.
    MovedWhileRunning {
        /// The line.
        entry: EntryId,
        /// The `run`.
        run: EntryId,
    },
    /// A session label used twice.
    SessionTwice {
        /// The later `run`.
        entry: EntryId,
        /// The first.
        first: EntryId,
    },
    /// `during` or `after` a session that is not there.
    SessionUnknown {
        /// The entry.
        entry: EntryId,
        /// It is the name of more than one stage there.
        several: bool,
        /// The car's labels there, nearest first.
        near: Option<String>,
    },
    /// `during` or `after` a session, under another.
    SessionContradicts {
        /// The line.
        entry: EntryId,
        /// The `run` it stands under.
        run: EntryId,
        /// The `run` that it names.
        named: EntryId,
    },
    /// A part goes on that is on somewhere else.
    PartInTwoPlaces {
        /// The line that fits it.
        entry: EntryId,
        /// The part.
        part: PartId,
        /// Where it is.
        there: super::parts::Where,
        /// The line that put it there.
        since: EntryId,
    },
    /// A part goes where another is.
    PlaceOccupied {
        /// The line.
        entry: EntryId,
        /// The part that is there.
        holds: PartId,
        /// The line that put it there.
        since: EntryId,
    },
    /// A part comes off a place where it is not.
    PullNotThere {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
        /// Where it is.
        there: super::parts::Where,
        /// The line that put it there, if any.
        since: Option<EntryId>,
    },
    /// A part that is gone (scrapped or sold) is used.
    RetiredPartFitted {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
        /// The line that retired it.
        since: EntryId,
        /// Sold rather than scrapped.
        sold: bool,
    },
    /// A failed part goes back on with nothing done to it.
    FailedPartBack {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
        /// The line that says it failed.
        since: EntryId,
    },
    /// A part goes on out of quarantine without a release.
    QuarantinedPartFitted {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
        /// The line that put it there.
        since: EntryId,
    },
    /// A part goes where its kind does not.
    DoesNotFit {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
        /// On which car.
        car: CarId,
        /// Where, if said.
        place: Option<Place>,
    },
    /// A part goes on, and its kind fits several places.
    PlaceNeeded {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
    },
    /// A line names a kind that the part is not.
    KindDiffers {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
        /// The kind named.
        kind: KindId,
    },
    /// A part would be inside itself, through others.
    InsideCircle {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
    },
    /// Scrapped, sold, shelved or rebuilt while still on a car or in an assembly.
    StillFitted {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
        /// The line that put it there.
        since: EntryId,
    },
    /// Released, though it was not in quarantine.
    NotQuarantined {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
    },
    /// A part that is lent, or went back to its owner, is used.
    PartAway {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
        /// The line that lent it or gave it back.
        since: EntryId,
        /// Lent by the shop.
        lent: bool,
    },
    /// A part that is not the shop's is lent or sold, or a client's own goes on another's car.
    NotOurs {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
        /// The line that borrowed it; a client's own says so where it is declared.
        since: Option<EntryId>,
    },
    /// A part comes to the shop that is there.
    HereAlready {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
        /// The line that bought or borrowed it, or put it where it is.
        came: EntryId,
    },
    /// Returned, though it was neither lent nor borrowed.
    NotAway {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
    },
    /// What it ran is said of a part that goes back to whom it belongs: it was here, and ran what its sessions say.
    RanHere {
        /// The line.
        entry: EntryId,
        /// The part.
        part: PartId,
    },
    /// Used before the line that buys it.
    UsedBeforeBought {
        /// The line that buys it.
        entry: EntryId,
        /// The part.
        part: PartId,
        /// The line that used it first.
        used: EntryId,
    },
    /// A line about a car that was sold.
    SoldCarTouched {
        /// The line.
        entry: EntryId,
        /// The car.
        car: CarId,
        /// The sale.
        sale: EntryId,
        /// How many more lines like it.
        more: u32,
    },
    /// A car or a part is sold before the line that buys it.
    SoldBeforeBought {
        /// The line that sells it.
        entry: EntryId,
        /// The car or the part.
        what: Sold,
        /// The line that buys it.
        bought: EntryId,
    },
    /// A block is for a client whose the car is not.
    NotTheOwner {
        /// The head.
        head: HeadId,
        /// The car.
        car: CarId,
        /// The client named.
        client: ClientId,
    },
    /// Old values of one line that are not what the book says, in the order of the line; at least one.
    OldValueDiffers {
        /// The line.
        entry: EntryId,
        /// Each of them.
        wrong: Vec<WrongOld>,
    },
    /// A change of something whose value is not known.
    DeltaFromUnknown {
        /// The line.
        entry: EntryId,
        /// The change.
        item: ItemId,
        /// The pads were read since it was stated, by this line.
        weighed: Option<EntryId>,
    },
    /// A change that leads to what cannot be.
    ChangeImpossible {
        /// The line.
        entry: EntryId,
        /// The change.
        item: ItemId,
        /// What it would lead to, SI.
        value: f64,
        /// What can be.
        limits: Limits,
    },
    /// A setting to the value it had.
    ChangeIsNothing {
        /// The line.
        entry: EntryId,
        /// The value.
        item: ItemId,
        /// The line that set it so; the car's declaration where there is none.
        was: Option<EntryId>,
    },
    /// A rate is set where a part that has it is fitted.
    RateFromPart {
        /// The line.
        entry: EntryId,
        /// The value.
        item: ItemId,
        /// The part.
        part: PartId,
    },
    /// Two blocks of one day touch one thing, and no times decide.
    OrderUnclear {
        /// A line of the one block.
        first: EntryId,
        /// A line of the other.
        second: EntryId,
    },
    /// Clicks without saying from where.
    ClicksWithoutDatum {
        /// The line.
        entry: EntryId,
        /// The value.
        item: ItemId,
        /// The part in that place, if it is tracked.
        part: Option<PartId>,
    },
    /// More clicks than the part has.
    ClicksBeyondRange {
        /// The line.
        entry: EntryId,
        /// The value.
        item: ItemId,
        /// The part.
        part: PartId,
    },
    /// Clicks from the other end than the slot's, of a damper whose number of clicks is not known.
    ClickDatumDiffers {
        /// The line.
        entry: EntryId,
        /// The value.
        item: ItemId,
        /// The line of the slot's value before.
        was: Option<EntryId>,
    },
    /// A job is closed, put off or promised before it is opened.
    JobNotOpen {
        /// The line.
        entry: EntryId,
        /// The job.
        job: JobId,
        /// The line that opens it.
        opened: EntryId,
    },
    /// A job is closed again.
    JobClosedTwice {
        /// The line.
        entry: EntryId,
        /// The job.
        job: JobId,
        /// The line that closed it first.
        first: EntryId,
    },
    /// A job is put off or promised after it was closed.
    JobClosed {
        /// The line.
        entry: EntryId,
        /// The job.
        job: JobId,
        /// The line that closed it.
        closed: EntryId,
    },
    /// A promise to somebody whose car it is not, or to nobody the book knows.
    PromiseToWhom {
        /// The line.
        entry: EntryId,
        /// The job.
        job: JobId,
        /// Whom to, if the book knows.
        client: Option<ClientId>,
    },
    /// A line that says `on` a job of one car, or goes on with it, stands under another car.
    JobOfOtherCar {
        /// The line.
        entry: EntryId,
        /// The job.
        job: JobId,
    },
    /// A count is not what the book says.
    CountDiffers {
        /// The line.
        entry: EntryId,
        /// The kind.
        kind: KindId,
        /// How many it says.
        counted: u32,
        /// How many the book says.
        before: i64,
        /// The count before.
        since: Option<EntryId>,
    },
    /// More of a kind is used than there is.
    UsedMoreThanThere {
        /// The line.
        entry: EntryId,
        /// The kind.
        kind: KindId,
        /// How many there were.
        before: i64,
        /// The count before.
        since: Option<EntryId>,
    },
    /// A number of a kind whose parts have names.
    CountedByName {
        /// The line.
        entry: EntryId,
        /// The kind.
        kind: KindId,
    },
    /// A counter went back.
    CounterWentBack {
        /// The line.
        entry: EntryId,
        /// The value.
        item: ItemId,
        /// The line of the reading before.
        was: EntryId,
        /// Its value.
        was_item: ItemId,
    },
}
