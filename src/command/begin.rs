//! `stringline begin`: a book's first two files, and what to type next.
//!
//! What stands in them behind a `#` is there to be used: take the `#` off and mend the values. Must not know the disk.

use super::CLEAN;
use super::output::Output;
use crate::book::names::{Thing, is_name};
use crate::source::{Memory, begin, reason, shown};
use crate::syntax::QUOTES;
use crate::words;
use std::path::PathBuf;

/// Begin a book: write its first two files into an empty folder
#[derive(Debug, clap::Args)]
#[command(
    after_help = "It writes FOLDER/shop.sline and FOLDER/CAR.sline and nothing else, and never over anything that is there.\n\n\
                  Example:\n  stringline begin ledgers wren\n  stringline check ledgers"
)]
pub struct Arguments {
    /// The folder; made where there is none
    folder: PathBuf,
    /// What the first car is called in the book: letters and digits, with `-` and `.`
    car: String,
    /// What the shop is called
    #[arg(long, value_name = "TEXT", default_value = "The shop")]
    shop: String,
    /// The currency of the book, by its ISO 4217 code
    #[arg(long, value_name = "CODE")]
    currency: Option<String>,
    /// The shop's time zone, by its IANA name such as Europe/Dublin
    #[arg(long, value_name = "ZONE")]
    zone: Option<String>,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let Arguments { folder, car, shop, .. } = arguments;
    if !is_name(car) {
        anyhow::bail!("`{car}` cannot be the name of a car: a name has letters and digits, with `-` and `.`");
    }
    // What is typed for an option is one word or one quoted text of the book, and nothing besides.
    if shop.chars().any(|each| each.is_control() || QUOTES.contains(&each)) {
        anyhow::bail!("the shop's name cannot have a quotation mark or a new line in it");
    }
    for (option, value) in [("currency", &arguments.currency), ("zone", &arguments.zone)] {
        let apart =
            |each: char| each.is_control() || each.is_whitespace() || QUOTES.contains(&each) || each == '#';
        if value.as_ref().is_some_and(|value| value.is_empty() || value.contains(apart)) {
            anyhow::bail!(
                "--{option} takes one word, such as {}",
                if option == "zone" { "Europe/Dublin" } else { "EUR" }
            );
        }
    }
    if std::fs::metadata(folder).is_ok_and(|found| !found.is_dir()) {
        anyhow::bail!(
            "`{}` is a file, and a book is a folder; name a folder that is not there yet",
            shown(folder)
        );
    }
    let now = output.now.unwrap_or_else(jiff::Timestamp::now);
    let shop_file = shop_file(arguments);
    // The day is the shop's: it is asked of the book.
    let today = compiled(&[("shop.sline", &shop_file)], now)?.today;
    let files =
        [("shop.sline".to_owned(), shop_file), (format!("{car}.sline"), car_file(car, &today.to_string()))];
    let texts: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let made = compiled(&texts, now)?;
    if !matches!(made.book.names.find(car), Some(Thing::Car(_))) {
        anyhow::bail!("`{car}` cannot be the name of a car: it is a word of the language");
    }
    let paths = begin(folder, &files).map_err(|error| match error.kind() {
        std::io::ErrorKind::AlreadyExists => {
            anyhow::anyhow!("`{}` has a book already; it is left as it is", shown(folder))
        }
        _ => anyhow::anyhow!("no book can be begun in `{}`: {}", shown(folder), reason(&error)),
    })?;
    let [at, last] = [folder, paths.last().unwrap_or(folder)].map(|path| shown(path));
    let paths: Vec<String> = paths.iter().map(|path| shown(path)).collect();
    output.result(&format!(
        "Written: {}\n\
         Next, in any text editor:\n\
         - in {last}, type what you know of {car}, one fact a line; the lines behind `#` show how\n\
         - `stringline check {at}` says what is wrong\n\
         - `stringline report {at} --out out` makes its pages; open out/index.html\n",
        words::and(&paths)
    ));
    Ok(CLEAN)
}

/// The book of some texts.
///
/// # Errors
/// What is wrong in them: the words of the arguments stand in them.
fn compiled(files: &[(&str, &str)], now: jiff::Timestamp) -> anyhow::Result<crate::Compiled> {
    let compiled = crate::compile(&Memory::new(files, now)).map_err(anyhow::Error::msg)?;
    let error = compiled.diagnostics.iter().find(|one| one.severity == crate::diagnostics::Severity::Error);
    match error {
        Some(error) => anyhow::bail!("such a book would not be read: {}", error.message),
        None => Ok(compiled),
    }
}

fn shop_file(arguments: &Arguments) -> String {
    let mut head = format!("shop \"{}\"", arguments.shop);
    for (word, value) in [("currency", &arguments.currency), ("zone", &arguments.zone)] {
        if let Some(value) = value {
            head += &format!("  {word} {value}");
        }
    }
    format!(
        "# The shop and what all its cars have to do with. Take the # off the lines you use, and mend them.\n\
         {head}\n\
         # person person-1 \"his or her name\"  role \"mechanic\"\n\
         # client client-1 \"the name on his bills\"\n\
         # circuit circuit-1 \"what it is called\"\n\
         # event event-1 2027-05-08..09 at circuit-1 \"what it is called\"\n\
         # gauge cg-1 \"camber gauge\"  reads camber  resolution 0.1 deg\n"
    )
}

fn car_file(car: &str, today: &str) -> String {
    format!(
        "car {car} \"{}\"\n\
         \x20 # reference driver 75 kg, fuel 20 L\n\
         \x20 # wheelbase 2350 mm\n\
         \x20 # track 1450 1430 mm\n\
         \x20 # toe-over 400 mm\n\
         \n\
         # A day: the date, the car, and what was found, changed and read, a fact a line.\n\
         {today} {car}\n\
         \x20 | the first day of this book\n\
         \x20 # found camber LF -2.0 RF -2.0 LR -1.5 RR -1.5 deg\n\
         \x20 # set toe-in LF 0.5 RF 0.5 mm\n\
         \x20 # set tyre-cold front 1.40 bar\n\
         \x20 # set bar-hole front 2  because \"pushed on the way in\"\n\
         \x20 # say \"turns in better\"  by person-1\n",
        crate::words::capital(car)
    )
}
