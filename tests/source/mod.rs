//! Reading a book from disk, and finding lines in it.

mod commit;
mod covered;
mod disk;
mod ids;
mod line_table;
mod overlay;
