//! How a derived measure reads in an error, where no ruler is known.

/// "152.4 mm (6.00 in)".
pub(crate) fn mm_and_inches(mm: f64) -> String {
    format!("{mm:.1} mm ({:.2} in)", mm / 25.4)
}
