//! Which check has the words of which fact: one match for each kind of fact, without a wildcard, so that a new variant does not
//! compile until somebody has said whose words it has.
//!
//! Must not know the words.

use super::{Check, Context, Look, phrase};
use super::{book, formulas, instruments, jobs, money, parts, reading, sessions, settings, typing, words};
use crate::book::figure::Clash;
use crate::book::trouble::FigureTrouble;
use crate::book::{Trouble, What};
use crate::costs::problem;
use crate::diagnostics::Diagnostic;
use crate::history::problem::Problem;
use crate::source::LoadTrouble;
use crate::syntax::Mistake;

/// Puts a mistake of the reading into words.
#[must_use]
pub fn trouble(cx: &Context<'_>, trouble: &Trouble) -> Diagnostic {
    let check = of_what(&trouble.what);
    let worded = if let Look::Trouble(words) = check.look { words(cx, trouble) } else { None };
    worded.unwrap_or_else(|| check.at(trouble.span, brief(check)))
}

/// Puts a problem of the fold into words.
#[must_use]
pub fn problem(cx: &Context<'_>, problem: &Problem) -> Diagnostic {
    let check = of_problem(problem);
    let worded = if let Look::Problem(words) = check.look { words(cx, problem) } else { None };
    worded.unwrap_or_else(|| phrase::whole(check, brief(check)))
}

/// Puts a problem of the costs into words.
#[must_use]
pub fn cost(cx: &Context<'_>, problem: &problem::Problem) -> Diagnostic {
    let check = of_cost(problem);
    let worded = if let Look::Cost(words) = check.look { words(cx, problem) } else { None };
    worded.unwrap_or_else(|| phrase::whole(check, brief(check)))
}

/// What stands for a check's words where it has none for its own fact; the tests look for such a check, a user is still told.
fn brief(check: &Check) -> String {
    format!("{}.", crate::words::capital(check.brief))
}

/// The check that words a mistake of the reading.
#[must_use]
pub fn of_what(what: &What) -> &'static Check {
    match what {
        What::Range(_) => &words::range_unclear::CHECK,
        What::QuantityBuiltIn(..) => &words::name_twice::CHECK,
        What::Figure(trouble) => of_figure(trouble),
        What::Meaning(_) => &words::meaning_unclear::CHECK,
        What::Tried(_) => &settings::trial_unclear::CHECK,
        What::Load(trouble) => of_load(trouble),
        What::Syntax(mistake) => of_syntax(*mistake),
        What::EmptyBook => &reading::book_empty::CHECK,
        What::Orphan => &reading::orphan_line::CHECK,
        What::DeclarationUnknown { .. } => &words::declaration_unknown::CHECK,
        What::NameMissing(_) => &words::name_missing::CHECK,
        What::NameReserved => &words::name_reserved::CHECK,
        What::NameTwice(_) | What::PropertyTwice { .. } => &words::name_twice::CHECK,
        What::NameUnknown { wanted: "part", .. } => &words::serial_unknown::CHECK,
        What::NameUnknown { .. } => &words::name_unknown::CHECK,
        What::NameWrongSort { .. } => &words::name_of_other_sort::CHECK,
        What::PropertyUnknown { .. } => &words::property_unknown::CHECK,
        What::Full(_) | What::PropertyValue { .. } => &words::property_value::CHECK,
        What::DateImpossible { .. } | What::YearFar => &typing::date_impossible::CHECK,
        What::DatesBackward => &typing::dates_backward::CHECK,
        What::HeadRange => &typing::head_range::CHECK,
        What::ValueImpossible { .. } => &typing::value_impossible::CHECK,
        What::NoTeeth(_) => &typing::no_teeth::CHECK,
        What::ZoneUnknown => &typing::zone_unknown::CHECK,
        What::ClockImpossible => &typing::clock_impossible::CHECK,
        What::VerbUnknown { .. } => &words::verb_unknown::CHECK,
        What::OutOfPlace { .. } | What::HeadIndented => &words::line_out_of_place::CHECK,
        What::Incomplete { .. } => &words::line_incomplete::CHECK,
        What::PageUnknown { .. } => &book::page_unknown::CHECK,
        What::PrintUnreadable => &book::print_unreadable::CHECK,
        What::QuantityUnknown { .. } => &words::quantity_unknown::CHECK,
        What::WordUnexpected { .. } | What::ClauseNotTaken { .. } => &words::word_unexpected::CHECK,
        What::UnitMissing(_) => &typing::unit_missing::CHECK,
        What::ComparedInOtherUnit(_) => &instruments::compared_in_other_unit::CHECK,
        What::ComparedWithItself(_) => &instruments::compared_with_itself::CHECK,
        What::UnitWrongKind { .. } => &typing::unit_wrong_kind::CHECK,
        What::UnitAmbiguous(_) => &typing::unit_ambiguous::CHECK,
        What::UnitUnknown { .. } => &typing::unit_unknown::CHECK,
        What::UnitTwice { .. } => &typing::unit_clash::CHECK,
        What::FractionImproper(_) => &typing::fraction_lost_space::CHECK,
        What::FractionOffRuler => &typing::fraction_off_ruler::CHECK,
        What::AngleMinutes => &typing::angle_minutes_range::CHECK,
        What::LapSeconds => &typing::lap_seconds_range::CHECK,
        What::NumberBad => &typing::number_unreadable::CHECK,
        What::NotOneNumber(_) | What::ChangeOfPair(_) => &typing::not_one_number::CHECK,
        What::NotAPair(..) => &typing::not_a_pair::CHECK,
        What::PlaceMissing(_) => &typing::place_missing::CHECK,
        What::PlaceWrong(_) | What::PlaceBeyond(_) => &typing::place_wrong::CHECK,
        What::PlaceTwice(_) => &typing::place_twice::CHECK,
        What::ClauseTwice(..) | What::FactTwice(..) => &typing::clause_twice::CHECK,
        What::ValueCount { .. } => &typing::value_count::CHECK,
        What::ValueMissing(_) => &typing::value_missing::CHECK,
        What::ChangeUnsigned(_) => &typing::change_unsigned::CHECK,
        What::ArrowBad => &typing::arrow_misplaced::CHECK,
        What::ToeUnderspecified { .. } => &typing::toe_underspecified::CHECK,
        What::BecauseEmpty => &words::because_empty::CHECK,
        What::CurrencyBad => &typing::currency_unknown::CHECK,
        What::CurrencyMissing(_) => &money::currency_missing::CHECK,
        What::SumNegative => &money::price_negative::CHECK,
        What::SumTooFine(_) => &money::sum_too_fine::CHECK,
        What::NoCar(_) => &words::car_missing::CHECK,
    }
}

const fn of_load(trouble: &LoadTrouble) -> &'static Check {
    match trouble {
        LoadTrouble::Unreadable { .. } => &reading::file_unreadable::CHECK,
        LoadTrouble::Loop { .. } => &reading::folder_loop::CHECK,
        LoadTrouble::NotUtf8 { .. } => &reading::not_utf8::CHECK,
    }
}

const fn of_syntax(mistake: Mistake) -> &'static Check {
    match mistake {
        Mistake::LineTooLong => &reading::line_too_long::CHECK,
        Mistake::QuoteOpen => &reading::quote_open::CHECK,
        Mistake::DecimalComma => &typing::decimal_comma::CHECK,
        Mistake::CommaGlued => &reading::comma_glued::CHECK,
        Mistake::DateOrder => &typing::date_ambiguous::CHECK,
        Mistake::HeadUnreadable => &reading::head_unreadable::CHECK,
        Mistake::QuoteGlued => &reading::quote_glued::CHECK,
        Mistake::Unreadable => &reading::line_unreadable::CHECK,
    }
}

const fn of_figure(trouble: &FigureTrouble) -> &'static Check {
    match trouble {
        FigureTrouble::Unreadable(_) => &formulas::formula_unreadable::CHECK,
        FigureTrouble::Clash(clash) => of_clash(clash),
        FigureTrouble::NameUnknown { .. } | FigureTrouble::NotANumber | FigureTrouble::SeveralNumbers(_) => {
            &formulas::formula_name_unknown::CHECK
        }
        FigureTrouble::PlaceWrong { .. } => &formulas::formula_place_wrong::CHECK,
        FigureTrouble::LocalReserved => &formulas::local_name_reserved::CHECK,
        FigureTrouble::Circle(_) | FigureTrouble::Deep => &formulas::figure_circle::CHECK,
        FigureTrouble::NoFormula => &formulas::figure_without_formula::CHECK,
        FigureTrouble::OtherSort { .. } => &formulas::figure_of_other_sort::CHECK,
    }
}

const fn of_clash(clash: &Clash) -> &'static Check {
    match clash {
        Clash::Unknown { .. } | Clash::NoFunction(..) => &formulas::formula_name_unknown::CHECK,
        Clash::List(_) => &formulas::formula_place_wrong::CHECK,
        Clash::NoUnit(_) | Clash::Ambiguous(..) => &formulas::formula_unit_unknown::CHECK,
        Clash::Apart { .. } | Clash::Wants { .. } | Clash::Gives(..) | Clash::Scale(..) => {
            &formulas::dimensions_clash::CHECK
        }
    }
}

/// The check that words a problem of the fold.
#[must_use]
pub const fn of_problem(problem: &Problem) -> &'static Check {
    match problem {
        Problem::ClockSkipped { .. } => &sessions::clock_skipped::CHECK,
        Problem::ClockTwice { .. } => &sessions::clock_twice::CHECK,
        Problem::ClockOffsetWrong { .. } => &sessions::clock_offset_wrong::CHECK,
        Problem::CorrectionMisses { .. } => &settings::correction_misses::CHECK,
        Problem::OutsideSession { .. } => &sessions::outside_session::CHECK,
        Problem::MovedWhileRunning { .. } => &sessions::moved_while_running::CHECK,
        Problem::TimesBackward { .. } | Problem::EndsFirst { .. } => &sessions::times_backward::CHECK,
        Problem::SessionTwice { .. } => &sessions::session_twice::CHECK,
        Problem::SessionUnknown { .. } => &sessions::session_unknown::CHECK,
        Problem::SessionContradicts { .. } => &sessions::session_contradicts::CHECK,
        Problem::PartInTwoPlaces { .. } => &parts::part_in_two_places::CHECK,
        Problem::PlaceOccupied { .. } => &parts::place_occupied::CHECK,
        Problem::PullNotThere { .. } => &parts::pull_not_there::CHECK,
        Problem::RetiredPartFitted { .. } => &parts::retired_part_fitted::CHECK,
        Problem::FailedPartBack { .. } => &parts::failed_part_back::CHECK,
        Problem::QuarantinedPartFitted { .. } => &parts::quarantined_part_fitted::CHECK,
        Problem::DoesNotFit { .. } => &parts::does_not_fit::CHECK,
        Problem::PlaceNeeded { .. } => &parts::place_needed::CHECK,
        Problem::KindDiffers { .. } => &parts::kind_differs::CHECK,
        Problem::InsideCircle { .. } => &parts::inside_circle::CHECK,
        Problem::StillFitted { .. } => &parts::still_fitted::CHECK,
        Problem::NotQuarantined { .. } => &parts::not_quarantined::CHECK,
        Problem::PartAway { .. } => &parts::part_away::CHECK,
        Problem::NotOurs { .. } => &parts::not_ours::CHECK,
        Problem::HereAlready { .. } => &parts::here_already::CHECK,
        Problem::CountDiffers { .. } => &parts::count_differs::CHECK,
        Problem::UsedMoreThanThere { .. } => &parts::used_more_than_there::CHECK,
        Problem::CountedByName { .. } => &parts::counted_by_name::CHECK,
        Problem::NotAway { .. } | Problem::RanHere { .. } => &parts::not_away::CHECK,
        Problem::UsedBeforeBought { .. } => &parts::used_before_bought::CHECK,
        Problem::SoldCarTouched { .. } => &sessions::sold_car_touched::CHECK,
        Problem::SoldBeforeBought { .. } => &sessions::sold_before_bought::CHECK,
        Problem::NotTheOwner { .. } => &sessions::not_the_owner::CHECK,
        Problem::OldValueDiffers { .. } => &settings::old_value_differs::CHECK,
        Problem::ChangeImpossible { .. } => &settings::change_impossible::CHECK,
        Problem::DeltaFromUnknown { .. } => &settings::delta_from_unknown::CHECK,
        Problem::ChangeIsNothing { .. } => &settings::change_is_nothing::CHECK,
        Problem::RateFromPart { .. } => &settings::rate_from_part::CHECK,
        Problem::OrderUnclear { .. } => &settings::day_order_unclear::CHECK,
        Problem::ClicksWithoutDatum { .. } => &settings::clicks_without_datum::CHECK,
        Problem::ClicksBeyondRange { .. } => &settings::clicks_beyond_range::CHECK,
        Problem::ClickDatumDiffers { .. } => &settings::click_datum_differs::CHECK,
        Problem::JobNotOpen { .. } => &jobs::job_not_open::CHECK,
        Problem::JobClosedTwice { .. } => &jobs::job_closed_twice::CHECK,
        Problem::JobClosed { .. } => &jobs::job_is_closed::CHECK,
        Problem::PromiseToWhom { .. } => &jobs::promise_to_whom::CHECK,
        Problem::JobOfOtherCar { .. } => &jobs::job_of_other_car::CHECK,
        Problem::CounterWentBack { .. } => &sessions::meter_went_back::CHECK,
    }
}

/// The check that words a problem of the costs.
#[must_use]
pub const fn of_cost(problem: &problem::Problem) -> &'static Check {
    match problem {
        problem::Problem::HoursWithoutRate { .. } => &money::hours_without_rate::CHECK,
        problem::Problem::SplitKeyEmpty { .. } => &money::split_key_empty::CHECK,
        problem::Problem::ExchangeMissing { .. } => &money::exchange_missing::CHECK,
        problem::Problem::PaidByNobody { .. } | problem::Problem::PaidBySeveral { .. } => {
            &money::paid_by_whom::CHECK
        }
        problem::Problem::BilledTwice { .. } => &money::billed_twice::CHECK,
        problem::Problem::QuoteExceeded { .. } => &money::quote_exceeded::CHECK,
    }
}
