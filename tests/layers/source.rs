//! Our own source as tokens: what each file defines, imports and names, and in which file a name is at home.
//!
//! Comments, texts and what stands behind a point are no names. A re-export is a signpost: a name is followed through it to the file
//! that defines it.

use proc_macro2::{Delimiter, TokenStream, TokenTree};
use std::collections::{BTreeMap, BTreeSet};

#[derive(Debug, Clone, PartialEq)]
enum Token {
    Name(String),
    Mark(char),
    Open(Delimiter),
    Close(Delimiter),
    Other,
}

fn flat(stream: TokenStream, out: &mut Vec<Token>) {
    for tree in stream {
        match tree {
            TokenTree::Ident(name) => out.push(Token::Name(name.to_string())),
            TokenTree::Punct(mark) => out.push(Token::Mark(mark.as_char())),
            TokenTree::Literal(_) => out.push(Token::Other),
            TokenTree::Group(group) => {
                out.push(Token::Open(group.delimiter()));
                flat(group.stream(), out);
                out.push(Token::Close(group.delimiter()));
            }
        }
    }
}

/// One name that a `use` brings in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Import {
    /// The whole path; `*` at its end for all of a module.
    pub path: Vec<String>,
    /// What it is called here.
    pub name: String,
    /// Whether it is handed on (`pub use`).
    pub handed_on: bool,
}

/// A type that a file defines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Type {
    /// Its name.
    pub name: String,
    /// Whether everybody may name it: plain `pub`.
    pub public: bool,
}

/// One file.
#[derive(Debug, Default)]
pub struct Source {
    /// The names it defines.
    pub defined: BTreeSet<String>,
    /// The types among them.
    pub types: Vec<Type>,
    /// What it imports.
    pub imports: Vec<Import>,
    /// The paths in its code, imports left out.
    pub paths: Vec<Vec<String>>,
}

struct Reader {
    tokens: Vec<Token>,
    at: usize,
}

impl Reader {
    fn mark(&self, ahead: usize, wanted: char) -> bool {
        self.tokens.get(self.at + ahead) == Some(&Token::Mark(wanted))
    }

    fn name(&self, ahead: usize) -> Option<&str> {
        match self.tokens.get(self.at + ahead) {
            Some(Token::Name(name)) => Some(name),
            _ => None,
        }
    }

    fn colons(&self) -> bool {
        self.mark(0, ':') && self.mark(1, ':')
    }

    /// One branch of a `use`, up to its comma, brace or semicolon.
    fn branch(&mut self, before: &[String], handed_on: bool, out: &mut Vec<Import>) {
        let mut path = before.to_vec();
        loop {
            if let Some(name) = self.name(0).map(str::to_owned) {
                path.push(name);
                self.at += 1;
            } else if self.mark(0, '*') {
                path.push("*".to_owned());
                self.at += 1;
            } else if self.tokens.get(self.at) == Some(&Token::Open(Delimiter::Brace)) {
                self.at += 1;
                while self.tokens.get(self.at) != Some(&Token::Close(Delimiter::Brace)) {
                    self.branch(&path, handed_on, out);
                    if self.mark(0, ',') {
                        self.at += 1;
                    }
                }
                self.at += 1;
                return;
            }
            if !self.colons() {
                break;
            }
            self.at += 2;
        }
        if path.len() > 1 && path.last().is_some_and(|last| last == "self") {
            path.pop();
        }
        let mut name = path.last().cloned().unwrap_or_default();
        if self.name(0) == Some("as") {
            name = self.name(1).map(str::to_owned).unwrap_or_default();
            self.at += 2;
        }
        out.push(Import { path, name, handed_on });
    }
}

/// Reads a file's text.
pub fn read(text: &str) -> Source {
    let mut tokens = Vec::new();
    flat(text.parse().unwrap_or_else(|error| panic!("{error}: {text}")), &mut tokens);
    let mut source = Source::default();
    let (mut reader, mut deep) = (Reader { tokens, at: 0 }, 0_usize);
    while let Some(token) = reader.tokens.get(reader.at).cloned() {
        match token {
            Token::Open(_) => deep += 1,
            Token::Close(_) => deep -= 1,
            Token::Name(name) if name == "use" => {
                let before = reader.tokens.get(..reader.at).unwrap_or_default();
                let handed_on = match before.last() {
                    Some(Token::Name(name)) => name == "pub",
                    Some(Token::Close(Delimiter::Parenthesis)) => {
                        let open = before.iter().rposition(|one| *one == Token::Open(Delimiter::Parenthesis));
                        let word = open.and_then(|at| before.get(at.checked_sub(1)?));
                        word == Some(&Token::Name("pub".to_owned()))
                    }
                    _ => false,
                };
                reader.at += 1;
                reader.branch(&[], handed_on, &mut source.imports);
                continue;
            }
            Token::Name(word) => {
                if deep == 0
                    && let Some(name) = reader.name(1).map(str::to_owned)
                    && matches!(
                        word.as_str(),
                        "struct" | "enum" | "union" | "trait" | "type" | "fn" | "const" | "static"
                    )
                    && name != "fn"
                {
                    if matches!(word.as_str(), "struct" | "enum" | "union" | "type") {
                        let before = reader.at.checked_sub(1).and_then(|at| reader.tokens.get(at));
                        let public = before == Some(&Token::Name("pub".to_owned()));
                        source.types.push(Type { name: name.clone(), public });
                    }
                    source.defined.insert(name);
                    reader.at += 2;
                    continue;
                }
                if word == "macro_rules" && reader.mark(1, '!') {
                    source.defined.extend(reader.name(2).map(str::to_owned));
                }
                let behind = reader.at.checked_sub(1).and_then(|at| reader.tokens.get(at)).cloned();
                let mut path = vec![word];
                reader.at += 1;
                while reader.colons()
                    && let Some(next) = reader.name(2).map(str::to_owned)
                {
                    path.push(next);
                    reader.at += 3;
                }
                // What stands behind a point is a field or a method, and behind a quote the name of a lifetime.
                if !matches!(behind, Some(Token::Mark('.' | '\''))) {
                    let called = reader.tokens.get(reader.at) == Some(&Token::Open(Delimiter::Parenthesis));
                    let large = path.first().is_some_and(|word| word.starts_with(char::is_uppercase));
                    if path.len() > 1 || called || large {
                        source.paths.push(path);
                    }
                }
                continue;
            }
            _ => {}
        }
        reader.at += 1;
    }
    source
}

/// A crate's files by their module: `["report", "section"]` of `src/report/section/mod.rs`.
#[derive(Debug, Default)]
pub struct Crate {
    /// Each with its path.
    pub modules: BTreeMap<Vec<String>, (String, Source)>,
}

impl Crate {
    /// Reads files; paths begin below `src/`.
    pub fn of<'a>(files: impl IntoIterator<Item = (&'a str, &'a str)>) -> Self {
        let module = |path: &str| {
            let mut words: Vec<String> = path.trim_end_matches(".rs").split('/').map(str::to_owned).collect();
            if words.last().is_some_and(|last| last == "mod" || last == "lib") {
                words.pop();
            }
            words
        };
        let all = files.into_iter().map(|(path, text)| (module(path), (path.to_owned(), read(text))));
        Self { modules: all.collect() }
    }

    /// Where a path seen from a module leads: the module that it is at home in, and what of it.
    fn home(&self, from: &[String], path: &[String], steps: usize) -> Option<Vec<String>> {
        let (first, rest) = path.split_first()?;
        let steps = steps.checked_sub(1)?;
        let mut at = match first.as_str() {
            "crate" => Vec::new(),
            "self" => from.to_vec(),
            "super" => from.split_last()?.1.to_vec(),
            _ => self.inside(from, first, steps)?,
        };
        for word in rest {
            at = match word.as_str() {
                "super" => at.split_last()?.1.to_vec(),
                _ if self.modules.contains_key(&at) => {
                    self.inside(&at, word, steps).unwrap_or_else(|| joined(&at, word))
                }
                _ => joined(&at, word),
            };
        }
        Some(at)
    }

    /// What a name means in a module; `None` for one that it neither defines nor imports.
    fn inside(&self, module: &[String], name: &str, steps: usize) -> Option<Vec<String>> {
        let (_, source) = self.modules.get(module)?;
        let own = joined(module, name);
        if self.modules.contains_key(&own) || source.defined.contains(name) {
            return Some(own);
        }
        let named = source.imports.iter().find(|import| import.name == name);
        // A crate's name imported from itself would lead here again.
        if let Some(import) = named.filter(|import| import.path.first().is_some_and(|word| word != name)) {
            return self.home(module, &import.path, steps);
        }
        let mut all = source.imports.iter().filter(|import| import.name == "*");
        all.find_map(|import| {
            let of = self.home(module, import.path.split_last()?.1, steps)?;
            let (_, other) = self.modules.get(&of)?;
            (of != module && other.defined.contains(name)).then(|| joined(&of, name))
        })
    }

    /// Which files use which: each file with the files that define what it names.
    pub fn uses(&self) -> BTreeMap<&str, BTreeSet<&str>> {
        let mut all: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
        for (module, (file, source)) in &self.modules {
            let brought = source.imports.iter().filter(|import| !import.handed_on).map(|import| &import.path);
            let mut others = BTreeSet::new();
            for path in brought.chain(&source.paths) {
                let Some(home) = self.home(module, path, 16) else { continue };
                let deepest = (0..=home.len()).rev().find_map(|length| {
                    let (other, _) = self.modules.get(home.get(..length)?)?;
                    Some((length, other.as_str()))
                });
                // A module named alone is no use of what is in it.
                if let Some((length, other)) = deepest
                    && length < home.len()
                    && other != file
                {
                    others.insert(other);
                }
            }
            all.insert(file, others);
        }
        all
    }
}

fn joined(module: &[String], name: &str) -> Vec<String> {
    module.iter().cloned().chain(std::iter::once(name.to_owned())).collect()
}
