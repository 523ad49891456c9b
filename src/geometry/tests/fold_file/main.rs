//! The exported FOLD file, read back and folded by a reader that shares no code with the crate:
//! its own walk over `edges_vertices`, its own rotation about an edge in space (Rodrigues).

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

mod every;
mod measures;
mod one_sheet;
mod punched;
mod reader;
mod trays;

use tablefold_geometry::{Length, PunchBoard, Ruler, Settings, Structure, Tools, Trimmer, Unit};

fn tools() -> Tools {
    let tenth = Length::from_nm(100_000);
    let fine = Ruler::new(Unit::Millimetre, tenth, Length::ZERO, Length::from_mm(2000)).unwrap();
    Tools::new(PunchBoard::default_inch(), fine, &Trimmer::new(fine))
}

fn made(settings: Option<Settings>) -> Structure {
    Structure::new(settings.unwrap(), &tools(), Length::from_nm(300_000)).unwrap()
}

fn tenths<const N: usize>(mm: [i64; N]) -> [Length; N] {
    mm.map(|n| Length::from_nm(n * 100_000))
}
