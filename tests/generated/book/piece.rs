//! A written book: lines of pieces. Each free word, sum and name knows which clients may read it, and has another in its stead
//! for a reader who may not.
//!
//! Must not know how a book is made up.

/// Clients by their bits.
pub type Readers = u32;

/// Everybody.
pub const ALL: Readers = u32::MAX;

/// What a name is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Thing {
    Client(usize),
    Car(usize),
    Part(usize),
    Person(usize),
}

/// How a name stands in a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// As it is declared.
    Name,
    /// `Heath`
    Title,
    /// `Heath's`
    Possessive,
    /// `Heaths`
    Plural,
    /// `Heaths'`
    PluralPossessive,
    /// `HEATH`
    Loud,
}

/// A piece of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Piece {
    /// Everybody's.
    Plain(String),
    /// A name, or the title made of it.
    Name(Thing, Form),
    /// Words or a sum; what stands there for whoever may not read it; who may.
    Slot { text: String, other: String, readers: Readers },
    /// The same, for whoever may read the name of a part; `paid` only who pays its price.
    OfPart { text: String, other: String, part: usize, paid: bool },
    /// The same, for whoever may read the name of a car.
    OfCar { text: String, other: String, car: usize },
    /// The same, for whoever may read the name of a person.
    OfPerson { text: String, other: String, person: usize },
}

/// A line being put together.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Text(pub Vec<Piece>);

impl Text {
    pub fn of(text: &str) -> Self {
        Self(vec![Piece::Plain(text.to_owned())])
    }

    pub fn s(mut self, text: &str) -> Self {
        self.0.push(Piece::Plain(text.to_owned()));
        self
    }

    pub fn name(mut self, thing: Thing) -> Self {
        self.0.push(Piece::Name(thing, Form::Name));
        self
    }

    pub fn titled(mut self, thing: Thing, form: Form) -> Self {
        self.0.push(Piece::Name(thing, form));
        self
    }

    pub fn slot(mut self, text: &str, other: &str, readers: Readers) -> Self {
        self.0.push(Piece::Slot { text: text.to_owned(), other: other.to_owned(), readers });
        self
    }

    pub fn and(mut self, more: Self) -> Self {
        self.0.extend(more.0);
        self
    }
}

/// A line of a book.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Its file, an index into [`Written::paths`].
    pub file: usize,
    /// What stands on it, indent and all.
    pub text: Text,
}

/// A name, its stead, and who may read it.
#[derive(Debug, Clone)]
pub struct Known {
    pub name: &'static str,
    pub other: &'static str,
    pub readers: Readers,
}

/// A whole book.
#[derive(Debug, Clone, Default)]
pub struct Written {
    pub paths: Vec<Text>,
    pub lines: Vec<Line>,
    pub clients: Vec<Known>,
    pub cars: Vec<Known>,
    pub parts: Vec<(String, String, Readers)>,
    /// Who pays each part's price.
    pub payers: Vec<Readers>,
    pub people: Vec<Known>,
}

impl Written {
    /// The files, path and text, as typed.
    pub fn files(&self) -> Vec<(String, String)> {
        self.files_for(None)
    }

    /// The files with everything else in the place of what none of those readers may read.
    pub fn changed_for(&self, readers: Readers) -> Vec<(String, String)> {
        self.files_for(Some(readers))
    }

    fn files_for(&self, reader: Option<Readers>) -> Vec<(String, String)> {
        let mut files: Vec<(String, String)> =
            self.paths.iter().map(|path| (self.say(path, reader), String::new())).collect();
        for line in &self.lines {
            let text = &mut files[line.file].1;
            text.push_str(&self.say(&line.text, reader));
            text.push('\n');
        }
        files
    }

    fn say(&self, text: &Text, reader: Option<Readers>) -> String {
        let may = |readers: Readers| reader.is_none_or(|reader| readers & reader != 0);
        let pick =
            |text: &str, other: &str, readers| if may(readers) { text.to_owned() } else { other.to_owned() };
        text.0
            .iter()
            .map(|piece| match piece {
                Piece::Plain(text) => text.clone(),
                Piece::Slot { text, other, readers } => pick(text, other, *readers),
                Piece::OfPart { text, other, part, paid } => {
                    pick(text, other, if *paid { self.payers[*part] } else { self.parts[*part].2 })
                }
                Piece::OfCar { text, other, car } => pick(text, other, self.cars[*car].readers),
                Piece::OfPerson { text, other, person } => pick(text, other, self.people[*person].readers),
                Piece::Name(thing, form) => {
                    let of = |known: &Known| pick(known.name, known.other, known.readers);
                    let name = match thing {
                        Thing::Client(at) => of(&self.clients[*at]),
                        Thing::Car(at) => of(&self.cars[*at]),
                        Thing::Person(at) => of(&self.people[*at]),
                        Thing::Part(at) => {
                            let (name, other, readers) = &self.parts[*at];
                            pick(name, other, *readers)
                        }
                    };
                    formed(&name, *form)
                }
            })
            .collect()
    }
}

fn formed(name: &str, form: Form) -> String {
    let title = || {
        let mut chars = name.chars();
        chars
            .next()
            .map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + chars.as_str())
    };
    match form {
        Form::Name => name.to_owned(),
        Form::Title => title(),
        Form::Possessive => title() + "'s",
        Form::Plural => title() + "s",
        Form::PluralPossessive => title() + "s'",
        Form::Loud => name.to_uppercase(),
    }
}
