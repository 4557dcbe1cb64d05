//! Reading a book from disk, and finding lines in it.

mod disk;
mod line_table;
