//! What goes on paper at true size.

mod qr;

pub use qr::{QUIET_ZONE, QrCode, TooLong};
