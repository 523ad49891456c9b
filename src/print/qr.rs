//! QR codes (ISO/IEC 18004) at error correction level M, as modules: whoever draws them chooses
//! the medium.

use fast_qr::ECL;
use fast_qr::qr::QRBuilder;

/// Light modules all round (ISO/IEC 18004: four).
pub const QUIET_ZONE: usize = 4;

/// The text fits into no code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{bytes} bytes are too long for a QR code of level M")]
pub struct TooLong {
    /// How long it is.
    pub bytes: usize,
}

/// A code without its quiet zone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct QrCode {
    side: usize,
    dark: Vec<bool>,
}

/// Dark modules side by side: column and row of the first from the upper left corner of the code,
/// and how many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct QrRun {
    /// Column of the first, from 0.
    pub x: usize,
    /// Row, from 0.
    pub y: usize,
    /// How many.
    pub count: usize,
}

impl QrCode {
    /// The smallest code that holds a text.
    ///
    /// # Errors
    /// [`TooLong`] for more than 2331 bytes (ISO/IEC 18004, version 40-M).
    pub fn new(text: &str) -> Result<Self, TooLong> {
        let too_long = |_| TooLong { bytes: text.len() };
        let code = QRBuilder::new(text).ecl(ECL::M).build().map_err(too_long)?;
        let side = code.size;
        let rows = (0..side).flat_map(|y| code[y].iter().take(side));
        Ok(Self {
            side,
            dark: rows.map(|module| module.value()).collect(),
        })
    }

    /// Modules on a side.
    #[must_use]
    pub const fn side(&self) -> usize {
        self.side
    }

    /// Modules on a side with the quiet zone.
    #[must_use]
    pub const fn whole_side(&self) -> usize {
        self.side + 2 * QUIET_ZONE
    }

    /// All dark modules, row by row.
    pub fn runs(&self) -> impl Iterator<Item = QrRun> {
        let rows = self.dark.chunks(self.side).enumerate();
        rows.flat_map(|(y, row)| {
            let mut x = 0;
            row.chunk_by(|a, b| a == b).filter_map(move |run| {
                let first = x;
                x += run.len();
                let found = QrRun {
                    x: first,
                    y,
                    count: run.len(),
                };
                run[0].then_some(found)
            })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The code as a picture, `scale` pixels to a module, read by a decoder that shares no code.
    fn read(code: &QrCode, scale: usize) -> String {
        let side = code.whole_side() * scale;
        let mut light = vec![true; side * side];
        for run in code.runs() {
            for x in (run.x + QUIET_ZONE) * scale..(run.x + run.count + QUIET_ZONE) * scale {
                for y in (run.y + QUIET_ZONE) * scale..(run.y + 1 + QUIET_ZONE) * scale {
                    light[y * side + x] = false;
                }
            }
        }
        let grey = |x: usize, y: usize| if light[y * side + x] { 255 } else { 0 };
        let mut image = rqrr::PreparedImage::prepare_from_greyscale(side, side, grey);
        let grids = image.detect_grids();
        assert_eq!(grids.len(), 1);
        let (meta, text) = grids[0].decode().unwrap();
        assert_eq!(
            meta.ecc_level, 0,
            "format bits of level M are 00 (ISO/IEC 18004)"
        );
        text
    }

    /// Sides and capacities of bytes at level M: ISO/IEC 18004:2015, table 7.
    #[test]
    fn each_length_takes_the_smallest_version_that_holds_it() {
        for (bytes, version) in [
            (14, 1),
            (15, 2),
            (26, 2),
            (27, 3),
            (42, 3),
            (43, 4),
            (62, 4),
            (63, 5),
            (84, 5),
            (85, 6),
            (106, 6),
            (107, 7),
        ] {
            let text = "a".repeat(bytes);
            let code = QrCode::new(&text).unwrap();
            assert_eq!(code.side(), 17 + 4 * version, "{bytes} bytes");
            assert_eq!(code.whole_side(), code.side() + 8);
            assert_eq!(read(&code, 3), text);
        }
    }

    #[test]
    fn a_link_of_the_hall_is_read_back() {
        let link = "http://192.168.1.20:8080/a/abcdefghijklmnopqrstuvwxyz234567";
        let code = QrCode::new(link).unwrap();
        assert_eq!(code.side(), 33, "version 4");
        assert_eq!(read(&code, 2), link);
    }

    #[test]
    fn a_text_that_no_code_holds_is_refused() {
        assert!(QrCode::new(&"a".repeat(2331)).is_ok());
        assert_eq!(QrCode::new(&"a".repeat(2332)), Err(TooLong { bytes: 2332 }));
    }
}
