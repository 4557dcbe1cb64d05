//! The `stringline` command: arguments in, exit code out.

fn main() {}
