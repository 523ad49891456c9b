//! Names that a machine can write: letters of single strokes, on glue flaps, which end up inside.
//!
//! A letter is drawn on a grid 4 wide and 6 high, its lower left corner "00": each stroke is a
//! run of grid points, x before y.

use std::collections::BTreeSet;

use kurbo::{Point, Vec2};

use crate::Pattern;
use crate::polygon::{bounds, depth_inside, edges, left_of};

const WIDE: f64 = 4.0;
const HIGH: f64 = 6.0;
/// From one letter to the next, in steps of the grid.
const ADVANCE: f64 = 6.0;

/// Heights of letters to try, mm.
const HEIGHTS_MM: [f64; 3] = [4.0, 3.0, 2.0];

/// Paper that stays clear between a stroke and the edge of the glue, mm.
const CLEAR_MM: f64 = 1.0;

const LETTERS: [(char, &str); 26] = [
    ('a', "00 26 40,12 32"),
    ('b', "00 06 36 45 44 33 03,33 42 41 30 00"),
    ('c', "45 36 16 05 01 10 30 41"),
    ('d', "00 06 26 44 42 20 00"),
    ('e', "46 06 00 40,03 33"),
    ('f', "46 06 00,03 33"),
    ('g', "45 36 16 05 01 10 30 41 43 23"),
    ('h', "06 00,46 40,03 43"),
    ('i', "16 36,26 20,10 30"),
    ('j', "46 41 30 10 01"),
    ('k', "06 00,46 03 40"),
    ('l', "06 00 40"),
    ('m', "00 06 23 46 40"),
    ('n', "00 06 40 46"),
    ('o', "16 36 45 41 30 10 01 05 16"),
    ('p', "00 06 36 45 44 33 03"),
    ('q', "16 36 45 41 30 10 01 05 16,22 40"),
    ('r', "00 06 36 45 44 33 03,23 40"),
    ('s', "45 36 16 05 04 13 33 42 41 30 10 01"),
    ('t', "06 46,26 20"),
    ('u', "06 01 10 30 41 46"),
    ('v', "06 20 46"),
    ('w', "06 10 23 30 46"),
    ('x', "06 40,46 00"),
    ('y', "06 23 46,23 20"),
    ('z', "06 46 00 40"),
];

/// Strokes of the name of each panel that gets glue, or of its initials, where they fit, mm.
pub(super) fn engraved(pattern: &Pattern) -> Vec<Vec<Point>> {
    let mut named = BTreeSet::new();
    let mut strokes = Vec::new();
    for zone in &pattern.glue {
        let name = pattern.panel(zone.on).map_or("", |panel| panel.name);
        let initials: String = name.split(' ').filter_map(|it| it.chars().next()).collect();
        let fitting = written(name, &zone.area).or_else(|| written(&initials, &zone.area));
        // A panel with glue in two places has one name.
        if let Some(name) = fitting.filter(|_| named.insert(zone.on)) {
            strokes.extend(name);
        }
    }
    strokes
}

/// A name along the longest edge of a polygon, in its middle, as large as fits.
fn written(name: &str, area: &[Point]) -> Option<Vec<Vec<Point>>> {
    let along = longest_edge(area)?;
    let up = left_of(along);
    let across = |p: &Point| Point::new(p.to_vec2().dot(along), p.to_vec2().dot(up));
    let middle = bounds(&area.iter().map(across).collect::<Vec<_>>())?.center();
    let grid = strokes(name);
    let width = name.chars().count() as f64 * ADVANCE - (ADVANCE - WIDE);
    let placed = |height: f64| -> Vec<Vec<Point>> {
        let step = height / HIGH;
        let at = |p: &Point| {
            let x = middle.x + (p.x - width / 2.0) * step;
            let y = middle.y + (p.y - HIGH / 2.0) * step;
            (along * x + up * y).to_point()
        };
        let stroke = |points: &Vec<Point>| points.iter().map(at).collect();
        grid.iter().map(stroke).collect()
    };
    let fits = |strokes: &Vec<Vec<Point>>| {
        let mut points = strokes.iter().flatten();
        points.all(|&p| depth_inside(p, area) >= CLEAR_MM)
    };
    HEIGHTS_MM.map(placed).into_iter().find(fits)
}

/// The direction of the longest edge, so turned that words along it are not upside down.
fn longest_edge(area: &[Point]) -> Option<Vec2> {
    let sides = edges(area).map(|(a, b)| b - a);
    let longest = sides.max_by(|a, b| a.hypot2().total_cmp(&b.hypot2()))?;
    let along = longest.normalize();
    let backwards = along.x < -1e-9 || (along.x.abs() <= 1e-9 && along.y < 0.0);
    along
        .is_finite()
        .then_some(if backwards { -along } else { along })
}

/// The strokes of a word on the grid; what is no letter leaves a gap.
fn strokes(name: &str) -> Vec<Vec<Point>> {
    let mut drawn = Vec::new();
    for (n, letter) in name.chars().enumerate() {
        let letter = letter.to_ascii_lowercase();
        let known = LETTERS.iter().find(|(it, _)| *it == letter);
        let runs = known.map_or("", |(_, runs)| runs).split(',');
        for run in runs.filter(|run| !run.is_empty()) {
            let points = run.split(' ').filter_map(|point| {
                let mut digits = point.chars().filter_map(|digit| digit.to_digit(10));
                let (x, y) = (digits.next()?, digits.next()?);
                Some(Point::new(n as f64 * ADVANCE + f64::from(x), f64::from(y)))
            });
            drawn.push(points.collect());
        }
    }
    drawn
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_letter_is_drawn_within_its_grid() {
        for (letter, runs) in LETTERS {
            let drawn = strokes(&letter.to_string());
            assert_eq!(drawn.len(), runs.split(',').count(), "{letter}");
            let read: usize = drawn.iter().map(Vec::len).sum();
            assert_eq!(read, runs.split([' ', ',']).count(), "{letter}");
            let mut points = drawn.iter().flatten();
            assert!(
                points.all(|p| p.x <= WIDE && p.y <= HIGH),
                "{letter} {drawn:?}"
            );
        }
    }

    #[test]
    fn a_name_reads_along_a_flap_clear_of_its_edges() {
        let flap = |wide: f64, high: f64| {
            [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)].map(|(x, y)| Point::new(x, y))
        };
        let strokes = written("lid", &flap(60.0, 12.0)).unwrap();
        let drawn = bounds(&strokes.concat()).unwrap();
        // Three letters 4 wide and two gaps of 2, at 4 mm for 6 steps.
        assert!((drawn.width() - 16.0 * 4.0 / 6.0).abs() < 1e-9);
        assert!((drawn.height() - 4.0).abs() < 1e-9);
        assert!((drawn.center() - Point::new(30.0, 6.0)).hypot() < 1e-9);
        // On its end it reads upwards; too narrow, it is left out.
        let upright = written("lid", &flap(12.0, 60.0)).unwrap();
        assert!(bounds(&upright.concat()).unwrap().width() < 4.0 + 1e-9);
        assert_eq!(written("lid", &flap(60.0, 3.9)), None);
        assert_eq!(written("lid", &flap(5.0, 6.0)), None);
    }
}
