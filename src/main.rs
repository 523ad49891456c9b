//! Starts Tablefold.

fn main() {}
