//! Measures as they read on a ruler, and in words.

use super::Ruler;
use crate::length::{Length, Unit, decimal};

/// Derived millimetres this close to a mark are on it: far below what paper or hands can show,
/// far above the rounding of `f64`.
const ON_MARK_MM: f64 = 1e-6;
impl Ruler {
    /// The measure as read on this ruler, "5 1/4 in", "133 mm", "13.3 cm". Off the marks it is
    /// the nearest one behind "≈"; below half a step, "< 1/16 in". Reach does not matter here.
    #[must_use]
    pub fn text(&self, length: Length) -> String {
        if self.on_grid(length) {
            return self.mark_text(length);
        }
        match Length::nearest_multiple(length.mm(), self.step) {
            Some(Length::ZERO) if length > Length::ZERO => {
                format!("< {}", self.mark_text(self.step))
            }
            Some(mark) => format!("≈ {}", self.mark_text(mark)),
            None => length.exact_text(),
        }
    }

    /// The measure as a message quotes it: the mark; off the marks of an inch ruler in 64ths or
    /// thousandths of an inch where it is a whole number of them; else the exact millimetres.
    #[must_use]
    pub fn text_or_exact(&self, length: Length) -> String {
        if self.on_grid(length) {
            return self.mark_text(length);
        }
        let finest = Self::inch(64);
        let thousandth = Length::from_nm(25_400);
        if self.unit() != Unit::Inch {
            length.exact_text()
        } else if finest.on_grid(length) {
            finest.mark_text(length)
        } else if length.nm() % thousandth.nm() == 0 {
            let thousandths = length.nm() / thousandth.nm();
            let text = format!("{}.{:03}", thousandths / 1000, thousandths % 1000);
            format!("{} in", text.trim_end_matches('0'))
        } else {
            length.exact_text()
        }
    }

    /// A derived value as read on this ruler: the mark if it is within 1e-6 mm of one, else as
    /// [`Ruler::text`].
    #[must_use]
    pub fn text_mm(&self, mm: f64) -> String {
        match Length::nearest_multiple(mm, self.step) {
            Some(mark) if (mark.mm() - mm).abs() <= ON_MARK_MM => self.mark_text(mark),
            // A nanometre is far below the step: rounding to one cannot reach another mark.
            Some(_) => match Length::nearest_multiple(mm, Length::from_nm(1)) {
                Some(length) => self.text(length),
                None => format!("{mm} mm"),
            },
            None => format!("{mm} mm"),
        }
    }

    /// The measure in words, for people who listen: "5 and a quarter inches".
    #[must_use]
    pub fn spoken(&self, length: Length) -> String {
        if self.on_grid(length) {
            return self.spoken_mark(length);
        }
        match Length::nearest_multiple(length.mm(), self.step) {
            Some(Length::ZERO) if length > Length::ZERO => {
                format!("less than {}", self.spoken_mark(self.step))
            }
            Some(mark) => format!("about {}", self.spoken_mark(mark)),
            None => length.exact_text(),
        }
    }

    fn mark_text(&self, mark: Length) -> String {
        let unit = self.unit.nm();
        let number = match self.unit {
            Unit::Inch | Unit::Foot => {
                let sign = if mark < Length::ZERO { "-" } else { "" };
                match mixed(mark) {
                    (whole, 0, _) => format!("{sign}{whole}"),
                    (0, top, bottom) => format!("{sign}{top}/{bottom}"),
                    (whole, top, bottom) => format!("{sign}{whole} {top}/{bottom}"),
                }
            }
            Unit::Millimetre | Unit::Centimetre => decimal(mark.nm(), unit),
        };
        format!("{number} {}", self.unit.symbol())
    }

    fn spoken_mark(&self, mark: Length) -> String {
        let sign = if mark < Length::ZERO { "minus " } else { "" };
        let words = match self.unit {
            Unit::Inch | Unit::Foot => match mixed(mark) {
                (1, 0, _) => "1 inch".to_owned(),
                (whole, 0, _) => format!("{whole} inches"),
                (0, 1, 2) => "half an inch".to_owned(),
                (0, top, bottom) => format!("{} of an inch", spoken_fraction(top, bottom)),
                (whole, top, bottom) => {
                    format!("{whole} and {} inches", spoken_fraction(top, bottom))
                }
            },
            Unit::Millimetre | Unit::Centimetre => {
                let number = decimal(mark.nm().saturating_abs(), self.unit.nm());
                let plural = if number == "1" { "" } else { "s" };
                let unit = match self.unit {
                    Unit::Centimetre => "centimetre",
                    _ => "millimetre",
                };
                format!("{number} {unit}{plural}")
            }
        };
        format!("{sign}{words}")
    }
}

/// The measure on its own ruler and converted to the other system: ("5 1/4 in", "≈ 133 mm").
#[must_use]
pub fn both(ruler: &Ruler, length: Length) -> (String, String) {
    (ruler.text(length), ruler.other().text(length))
}

/// Inches as whole, numerator and denominator in lowest terms, without sign.
fn mixed(length: Length) -> (u64, u64, u64) {
    let inch = Unit::Inch.nm().unsigned_abs();
    let nm = length.nm().unsigned_abs();
    let (whole, rest) = (nm / inch, nm % inch);
    let divisor = gcd(rest, inch);
    (whole, rest / divisor, inch / divisor)
}

fn spoken_fraction(top: u64, bottom: u64) -> String {
    match (top, bottom) {
        (1, 2) => "a half".to_owned(),
        (1, 4) => "a quarter".to_owned(),
        (3, 4) => "three quarters".to_owned(),
        (1, 8) => "an eighth".to_owned(),
        (1, 16) => "a sixteenth".to_owned(),
        (1, 32) => "a thirty-second".to_owned(),
        (1, 64) => "a sixty-fourth".to_owned(),
        (_, 8) => format!("{top} eighths"),
        (_, 16) => format!("{top} sixteenths"),
        (_, 32) => format!("{top} thirty-seconds"),
        (_, 64) => format!("{top} sixty-fourths"),
        _ => format!("{top} over {bottom}"),
    }
}

fn gcd(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
