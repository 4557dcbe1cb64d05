//! The list of currencies: ISO 4217, list one, published 2026-01-01.

use stringline::money::{Amount, Currency};

const LIST: &str = include_str!("../../src/money/iso4217.txt");

/// Counted in the published XML of the list (Python 3, xml.etree), apart from this program: 178 codes, of which 13 have no
/// minor unit, 17 have none below the unit, 139 hundredths, 7 thousandths, 2 ten-thousandths.
#[test]
fn the_list_is_whole() {
    let (active, withdrawn) = LIST.split_once("# Withdrawn.").unwrap();
    let of = |text: &str, decimals: &str| {
        text.lines().filter(|line| line.split(' ').nth(1) == Some(decimals) && !line.starts_with('#')).count()
    };
    let counts = ["-", "0", "2", "3", "4"].map(|decimals| of(active, decimals));
    assert_eq!(counts, [13, 17, 139, 7, 2]);
    assert_eq!(of(withdrawn, "2"), 3);
    assert_eq!(Currency::all().count(), 178 - 13 + 3);
    let codes: Vec<&str> = Currency::all().map(Currency::code).collect();
    assert!(codes.windows(2).all(|two| two[0] < two[1]), "each once, in order");
}

/// Decimals of the published list.
#[test]
fn minor_units() {
    for (code, decimals, name) in [
        ("EUR", 2, "Euro"),
        ("GBP", 2, "Pound Sterling"),
        ("USD", 2, "US Dollar"),
        ("JPY", 0, "Yen"),
        ("ISK", 0, "Iceland Krona"),
        ("KRW", 0, "Won"),
        ("KWD", 3, "Kuwaiti Dinar"),
        ("TND", 3, "Tunisian Dinar"),
        ("CLF", 4, "Unidad de Fomento"),
        ("UYW", 4, "Unidad Previsional"),
        ("XCG", 2, "Caribbean Guilder"),
    ] {
        let currency = Currency::find(code).unwrap();
        assert_eq!((currency.code(), currency.decimals(), currency.name()), (code, decimals, name));
    }
    for code in ["", "EU", "EURO", "ZZZ", "XAU", "XBA", "XTS", "€", "eü"] {
        assert_eq!(Currency::find(code), None, "{code}");
    }
    assert_eq!(Currency::find("eur"), Currency::find("EUR"));
}

/// A sum is written with the decimals of its currency.
#[test]
fn sums_are_written_with_their_decimals() {
    let shown = |number: &str, code: &str| {
        Amount::read(number, Currency::find(code).unwrap()).map(|amount| amount.to_string())
    };
    assert_eq!(shown("38", "EUR").unwrap(), "38.00 EUR");
    assert_eq!(shown("38.5", "EUR").unwrap(), "38.50 EUR");
    assert_eq!(shown("4200", "JPY").unwrap(), "4200 JPY");
    assert_eq!(shown("1.25", "KWD").unwrap(), "1.250 KWD");
    assert_eq!(shown("38.000", "EUR").unwrap(), "38.00 EUR");
}
