//! What folding the entries finds wrong, as facts without words; each is put into words by one file of `check`.
//!
//! Must not know messages or severities. Entries are indexes into [`crate::book::Book::entries`], items into `items`.

use crate::book::model::{CarId, ClientId, JobId, KindId, PartId};
use crate::book::place::Place;

/// What is sold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sold {
    /// A car.
    Car(CarId),
    /// A part.
    Part(PartId),
}

/// One problem. All are found once, at the line that made them.
#[derive(Debug, Clone, PartialEq)]
pub enum Problem {
    /// A session label used twice.
    SessionTwice {
        /// The later `run`.
        entry: u32,
        /// The first.
        first: u32,
    },
    /// `during` or `after` a session that is not there.
    SessionUnknown {
        /// The entry.
        entry: u32,
        /// The car's labels there, nearest first.
        near: Option<String>,
    },
    /// A part goes on that is on somewhere else.
    PartInTwoPlaces {
        /// The line that fits it.
        entry: u32,
        /// The part.
        part: PartId,
        /// Where it is.
        there: super::parts::Where,
        /// The line that put it there.
        since: u32,
    },
    /// A part goes where another is.
    PlaceOccupied {
        /// The line.
        entry: u32,
        /// The part that is there.
        holds: PartId,
        /// The line that put it there.
        since: u32,
    },
    /// A part comes off a place where it is not.
    PullNotThere {
        /// The line.
        entry: u32,
        /// The part.
        part: PartId,
        /// Where it is.
        there: super::parts::Where,
        /// The line that put it there, if any.
        since: Option<u32>,
    },
    /// A part that is gone (scrapped or sold) is used.
    RetiredPartFitted {
        /// The line.
        entry: u32,
        /// The part.
        part: PartId,
        /// The line that retired it.
        since: u32,
        /// Sold rather than scrapped.
        sold: bool,
    },
    /// A failed part goes back on with nothing done to it.
    FailedPartBack {
        /// The line.
        entry: u32,
        /// The part.
        part: PartId,
        /// The line that says it failed.
        since: u32,
    },
    /// A part goes on out of quarantine without a release.
    QuarantinedPartFitted {
        /// The line.
        entry: u32,
        /// The part.
        part: PartId,
        /// The line that put it there.
        since: u32,
    },
    /// A part goes where its kind does not.
    DoesNotFit {
        /// The line.
        entry: u32,
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
        entry: u32,
        /// The part.
        part: PartId,
    },
    /// A line names a kind that the part is not.
    KindDiffers {
        /// The line.
        entry: u32,
        /// The part.
        part: PartId,
        /// The kind named.
        kind: KindId,
    },
    /// A part would be inside itself, through others.
    InsideCircle {
        /// The line.
        entry: u32,
        /// The part.
        part: PartId,
    },
    /// Scrapped, sold, shelved or rebuilt while still on a car or in an assembly.
    StillFitted {
        /// The line.
        entry: u32,
        /// The part.
        part: PartId,
        /// The line that put it there.
        since: u32,
    },
    /// Released, though it was not in quarantine.
    NotQuarantined {
        /// The line.
        entry: u32,
        /// The part.
        part: PartId,
    },
    /// Used before the line that buys it.
    UsedBeforeBought {
        /// The line that buys it.
        entry: u32,
        /// The part.
        part: PartId,
        /// The line that used it first.
        used: u32,
    },
    /// A line about a car that was sold.
    SoldCarTouched {
        /// The line.
        entry: u32,
        /// The car.
        car: CarId,
        /// The sale.
        sale: u32,
        /// How many more lines like it.
        more: u32,
    },
    /// A car or a part is sold before the line that buys it.
    SoldBeforeBought {
        /// The line that sells it.
        entry: u32,
        /// The car or the part.
        what: Sold,
        /// The line that buys it.
        bought: u32,
    },
    /// A block is for a client whose the car is not.
    NotTheOwner {
        /// The head.
        head: u32,
        /// The car.
        car: CarId,
        /// The client named.
        client: ClientId,
    },
    /// An old value that is not what the book says.
    OldValueDiffers {
        /// The line.
        entry: u32,
        /// The old value typed.
        item: u32,
        /// The line the book's value stands on.
        was: u32,
        /// The book's value there.
        was_item: u32,
        /// That value in SI, with the changes since it was typed.
        value: f64,
    },
    /// A change of something whose value is not known.
    DeltaFromUnknown {
        /// The line.
        entry: u32,
        /// The change.
        item: u32,
    },
    /// A setting to the value it had.
    ChangeIsNothing {
        /// The line.
        entry: u32,
        /// The value.
        item: u32,
        /// The line that set it so.
        was: u32,
    },
    /// A rate is set where a part that has it is fitted.
    RateFromPart {
        /// The line.
        entry: u32,
        /// The value.
        item: u32,
        /// The part.
        part: PartId,
    },
    /// Two blocks of one day touch one thing, and no times decide.
    OrderUnclear {
        /// A line of the one block.
        first: u32,
        /// A line of the other.
        second: u32,
    },
    /// Clicks without saying from where.
    ClicksWithoutDatum {
        /// The line.
        entry: u32,
        /// The value.
        item: u32,
        /// The part in that place, if it is tracked.
        part: Option<PartId>,
    },
    /// More clicks than the part has.
    ClicksBeyondRange {
        /// The line.
        entry: u32,
        /// The value.
        item: u32,
        /// The part.
        part: PartId,
    },
    /// Clicks from the other end than the slot's, of a damper whose number of clicks is not known.
    ClickDatumDiffers {
        /// The line.
        entry: u32,
        /// The value.
        item: u32,
        /// The line of the slot's value before.
        was: u32,
    },
    /// A job is closed, put off or promised before it is opened.
    JobNotOpen {
        /// The line.
        entry: u32,
        /// The job.
        job: JobId,
        /// The line that opens it.
        opened: u32,
    },
    /// A job is closed again.
    JobClosedTwice {
        /// The line.
        entry: u32,
        /// The job.
        job: JobId,
        /// The line that closed it first.
        first: u32,
    },
    /// A job is put off or promised after it was closed.
    JobClosed {
        /// The line.
        entry: u32,
        /// The job.
        job: JobId,
        /// The line that closed it.
        closed: u32,
    },
    /// A promise to somebody whose car it is not, or to nobody the book knows.
    PromiseToWhom {
        /// The line.
        entry: u32,
        /// The job.
        job: JobId,
        /// Whom to, if the book knows.
        client: Option<ClientId>,
    },
    /// A line that says `on` a job of one car, or goes on with it, stands under another car.
    JobOfOtherCar {
        /// The line.
        entry: u32,
        /// The job.
        job: JobId,
    },
    /// A counter went back.
    CounterWentBack {
        /// The line.
        entry: u32,
        /// The value.
        item: u32,
        /// The line of the reading before.
        was: u32,
        /// Its value.
        was_item: u32,
    },
}
