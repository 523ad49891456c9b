//! Tablefold.
