//! QR codes in pages: black on white on every screen, at a size that phones read from paper.

use std::fmt::{self, Write};

use askama::filters::HtmlSafe;

use crate::print::{QUIET_ZONE, QrCode};

/// Side of a module, in tenths of a millimetre. GS1 General Specifications 5.12.3.1 ask for 0.396
/// to 0.990 mm; at 300 dpi half a millimetre is 6 dots.
const MODULE: usize = 5;

/// A code with its quiet zone, as SVG.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QrPicture(String);

impl HtmlSafe for QrPicture {}

impl fmt::Display for QrPicture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl QrPicture {
    /// The code of the link that opens the step cards.
    #[must_use]
    pub fn of_step_cards(address: Option<&str>) -> Option<Self> {
        Self::of(address?, "QR code of the step cards")
    }

    /// The code of an address, `module` as above; `None` for one that is too long for any code.
    #[must_use]
    pub fn of(address: &str, label: &'static str) -> Option<Self> {
        Self::sized(address, label, MODULE)
    }

    /// The same, three times as large: read from 60 cm (size ≈ distance / 10: common practice,
    /// no source).
    #[must_use]
    pub fn large(address: &str, label: &'static str) -> Option<Self> {
        Self::sized(address, label, 3 * MODULE)
    }

    fn sized(address: &str, label: &'static str, module: usize) -> Option<Self> {
        let code = QrCode::new(address).ok()?;
        let whole = code.whole_side();
        let tenths = whole * module;
        let mm = format!("{}.{}mm", tenths / 10, tenths % 10);
        let mut path = String::new();
        for run in code.runs() {
            let (x, y) = (run.x + QUIET_ZONE, run.y + QUIET_ZONE);
            let _ = write!(path, "M{x} {y}h{0}v1h-{0}z", run.count);
        }
        Some(Self(format!(
            "<svg class=\"qr\" width=\"{mm}\" height=\"{mm}\" viewBox=\"0 0 {whole} {whole}\" role=\"img\" \
             aria-label=\"{label}\" shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h{whole}v{whole}h-{whole}z\"/>\
             <path d=\"{path}\"/></svg>"
        )))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_link_is_two_centimetres_wide_on_paper() {
        let link = "http://192.168.1.20:8080/a/abcdefghijklmnopqrstuvwxyz234567";
        let svg = QrPicture::of(link, "Code").unwrap().to_string();
        // (33 + 8) modules of 0.5 mm.
        assert!(svg.contains("width=\"20.5mm\" height=\"20.5mm\" viewBox=\"0 0 41 41\""));
        assert!(
            QrPicture::large(link, "Code")
                .unwrap()
                .to_string()
                .contains("61.5mm")
        );
        assert!(QrPicture::of(&"a".repeat(3000), "Code").is_none());
    }
}
