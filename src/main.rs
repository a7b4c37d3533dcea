//! Arguments, files, clock and exit code: the only place with effects.

fn main() {}
