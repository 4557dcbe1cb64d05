//! What a spec costs to run, and the age at which changing it costs least: estimates from its lives and its price.
//!
//! An estimate of a rate is no amount of money that anyone is billed: it is worked in floating point and said as "about".

use super::fitted::Fitted;
use crate::Compiled;
use crate::book::model::{Clock, LifeAmount};
use crate::book::names::Thing;
use crate::money::Amount;
use crate::statistics::replacement::{optimum, rate_to_failure};
use crate::units::number;
use crate::words::scale::{Scale, too_few};
use serde::Serialize;

/// What a spec costs to run.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LifeMoney {
    /// ISO 4217 code.
    pub currency: String,
    /// Price of one, as typed.
    pub price: String,
    /// What a failure costs on top, as typed; empty where the kind does not say.
    pub failure_costs: String,
    /// For each unit of the clock (each hour, for running time), run to failure; null without a fit.
    pub rate: Option<f64>,
    /// The age at which changing costs least, in the clock's unit, and never past a stated limit; null where none does.
    pub change_at: Option<f64>,
    /// Sentences.
    pub words: Vec<String>,
}

/// A price and what a failure costs on top, in one currency, as plain numbers.
pub(super) struct Prices {
    pub(super) price: f64,
    pub(super) extra: f64,
    pub(super) currency: String,
    /// What was typed.
    typed: (String, String),
}

pub(super) fn prices(compiled: &Compiled, one: &Fitted) -> Option<Prices> {
    let group = one.study.group;
    let spec = compiled.book.specs.get(group.spec?)?;
    let price = spec.price.as_ref()?;
    let costs = compiled.book.kinds.get(group.kind)?.failure_costs.as_ref();
    // What a failure costs besides the part and cannot be read, or is of another currency, is not nothing.
    let unread = compiled.book.unread.has(Some(Thing::Kind(group.kind)), "failure-costs");
    if unread || costs.is_some_and(|costs| costs.currency != price.currency) {
        return None;
    }
    let plain = |money: &Amount| money.value.to_string().parse::<f64>().ok();
    let words = |money: &Amount| format!("{} {}", money.value, money.currency);
    Some(Prices {
        price: plain(price)?,
        extra: costs.and_then(plain).unwrap_or(0.0),
        currency: price.currency.to_string(),
        typed: (words(price), costs.map_or_else(String::new, words)),
    })
}

/// The unit rates are told for, in SI and in words: an hour of running, else one of the clock's unit.
pub(super) fn per(scale: Scale) -> (f64, String) {
    if scale.clock == Clock::Time {
        return (3600.0, "an hour of running".to_owned());
    }
    let unit = scale.unit(true);
    let article = if unit.starts_with(['a', 'e']) { "an" } else { "a" };
    (scale.factor(), format!("{article} {unit}"))
}

pub(super) fn money(compiled: &Compiled, one: &Fitted, scale: Scale) -> Option<LifeMoney> {
    let prices = prices(compiled, one)?;
    let (unit, each) = per(scale);
    let mut words = Vec::new();
    let (mut rate, mut change_at) = (None, None);
    if let Ok(fit) = &one.fit {
        let failure = prices.price + prices.extra;
        let to_failure = rate_to_failure(&fit.life, failure) * unit;
        rate = Some(to_failure);
        let with = if prices.extra > 0.0 { ", lost sessions with it" } else { "" };
        words.push(format!(
            "Run to failure it costs about {} {} {each}{with}.",
            number::format(to_failure, 2),
            prices.currency
        ));
        let few = too_few(fit.failures);
        let best = optimum(&fit.life, prices.price, failure).filter(|_| few.is_none());
        let limit = limit(compiled, one).map_or(f64::INFINITY, |limit| limit.value);
        change_at = best.map(|best| best.age.min(limit) / scale.factor());
        words.push(match best {
            Some(best) => change(compiled, one, scale, best.age, best.rate * unit, &prices.currency),
            None if few.is_some() => {
                format!("At which age changing it costs least: {}.", few.unwrap_or_default())
            }
            None if prices.extra <= 0.0 => {
                "A planned change costs as much as a failure, as far as the book says (`failure-costs` on the kind), so by cost alone \
                 run it to failure."
                    .to_owned()
            }
            None => "It does not wear out by these lives, so by cost alone run it to failure.".to_owned(),
        });
        let group = one.study.group;
        if compiled.book.kinds[group.kind].safety {
            let stated = !compiled.book.limits_of(group.kind, group.spec).0.is_empty();
            let rules =
                if stated { "the stated limit rules" } else { "the book states no limit; the maker's rules" };
            words.push(format!("Its failure can hurt: {rules}, whatever it costs."));
        }
    }
    let (price, failure_costs) = prices.typed;
    Some(LifeMoney { currency: prices.currency, price, failure_costs, rate, change_at, words })
}

fn change(compiled: &Compiled, one: &Fitted, scale: Scale, age: f64, rate: f64, currency: &str) -> String {
    let shorter = limit(compiled, one).filter(|limit| limit.value < age);
    let (_, each) = per(scale);
    match shorter {
        Some(limit) => format!(
            "By cost alone it would be changed at {}; the limit of {} comes first.",
            scale.words(age),
            compiled.files.text(limit.typed)
        ),
        None => format!(
            "Changed at {} it costs least: about {} {currency} {each}.",
            scale.words(age),
            number::format(rate, 2)
        ),
    }
}

/// The least limit stated on the clock its lives are measured on.
fn limit<'a>(compiled: &'a Compiled, one: &Fitted) -> Option<&'a LifeAmount> {
    let group = one.study.group;
    let (limits, _) = compiled.book.limits_of(group.kind, group.spec);
    let own = limits.iter().filter(|limit| limit.clock == group.clock);
    own.min_by(|a, b| a.value.total_cmp(&b.value))
}
