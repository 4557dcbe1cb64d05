//! Money as typed: an exact decimal and its ISO 4217 code.
//!
//! Must not know who pays, nor any rate.

use super::entry::Money;
use rust_decimal::Decimal;

/// Active alphabetic codes of ISO 4217 (list one, from memory of the published table; funds codes left out).
const CODES: &str = "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD CAD \
CDF CHF CLP CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL HTG HUF \
IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL MGA MKD MMK MNT MOP \
MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD RUB RWF SAR SBD SCR SDG SEK \
SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH UGX USD UYU UZS VES VND VUV WST XAF XCD XOF \
XPF YER ZAR ZMW ZWG";

/// Whether the word is a currency's code, in any capitals.
#[must_use]
pub fn is_code(word: &str) -> bool {
    word.len() == 3 && CODES.split_ascii_whitespace().any(|code| code.eq_ignore_ascii_case(word))
}

/// Puts a typed number and a code together; `None` if either is not what it should be.
#[must_use]
pub fn money(number: &str, code: &str) -> Option<Money> {
    let amount = number.parse::<Decimal>().ok()?;
    is_code(code).then(|| Money { amount, currency: code.to_ascii_uppercase().into() })
}
