//! Names in their panels: as large as fits, clear of every line and of each other.

use tablefold_geometry::Point;

use super::area::Area;
use super::drawing::Drawing;
use super::font::{LINE, MM_PER_POINT, Weight};
use super::quad::{Quad, Segment, inside};

/// Sizes to try, points.
const SIZES: [f64; 5] = [12.0, 10.0, 8.0, 6.5, 5.0];

/// Room kept round words, mm.
const ROOM_MM: f64 = 0.8;

/// Places tried along each side of a panel.
const PLACES: usize = 11;

/// Words with their place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Label {
    pub(super) lines: Vec<String>,
    pub(super) size: f64,
    pub(super) middle: Point,
    pub(super) angle_deg: f64,
    /// What they take up.
    pub(super) takes: Quad,
}

/// The labels of what a part of the page shows of a drawing; `taken` is where nothing may stand.
pub(super) fn labels(drawing: &Drawing, window: &Area, mut taken: Vec<Quad>) -> Vec<Label> {
    let visible = window.inset(ROOM_MM);
    let angles = match drawing.angle_deg {
        45.0 => [45.0, -45.0],
        _ => [0.0, 90.0],
    };
    let mut labels = Vec::new();
    let lines = drawing.lines();
    for (index, (name, outline)) in drawing.panels.iter().enumerate() {
        // A window in a panel has a name of its own.
        let others = drawing.panels.iter().enumerate();
        let windows: Vec<&Vec<Point>> = others
            .filter(|(other, _)| *other != index)
            .map(|(_, (_, other))| other)
            .filter(|other| other.first().is_some_and(|&p| inside(p, outline)))
            .collect();
        let seen = visible.clip(outline);
        // What lies about the panel: slots and windows in it, and its own edges.
        let about = Area::round(outline);
        let near = |[a, b]: &&Segment| {
            let line = Area::round([a, b]);
            line.left <= about.right
                && about.left <= line.right
                && line.top <= about.bottom
                && about.top <= line.bottom
        };
        let lines: Vec<Segment> = lines.iter().filter(near).copied().collect();
        // The clip may have bridged a bay that is no part of the panel.
        let clear = |quad: &Quad| {
            quad.lies_in(outline)
                && !lines.iter().any(|&line| quad.meets(line))
                && !windows
                    .iter()
                    .any(|window| quad.0.iter().any(|&corner| inside(corner, window)))
                && quad.0.iter().all(|&corner| in_area(corner, &visible))
                && !taken.iter().any(|other| other.overlaps(quad))
        };
        if let Some(label) = place(name, &seen, angles, clear) {
            taken.push(label.takes);
            labels.push(label);
        }
    }
    labels
}

fn in_area(p: Point, area: &Area) -> bool {
    (area.left..=area.right).contains(&p.x) && (area.top..=area.bottom).contains(&p.y)
}

/// The largest words that are clear somewhere in a polygon, nearest to its middle.
fn place(
    name: &str,
    polygon: &[Point],
    angles: [f64; 2],
    clear: impl Fn(&Quad) -> bool,
) -> Option<Label> {
    let places = places(polygon);
    let layouts = layouts(name);
    for size in SIZES {
        for angle_deg in angles {
            for lines in &layouts {
                let (wide, high) = extent(lines, size);
                let quad = |middle| Quad::round(middle, (wide, high), angle_deg);
                let found = places.iter().find(|&&middle| clear(&quad(middle)));
                if let Some(&middle) = found {
                    return Some(Label {
                        lines: lines.clone(),
                        size,
                        middle,
                        angle_deg,
                        takes: quad(middle),
                    });
                }
            }
        }
    }
    None
}

/// Width and height of some lines with room round them, mm.
fn extent(lines: &[String], size: f64) -> (f64, f64) {
    let widths = lines
        .iter()
        .map(|line| Weight::Regular.width_mm(line, size));
    let wide = widths.fold(0.0, f64::max);
    let high = lines.len() as f64 * size * LINE * MM_PER_POINT;
    (wide + 2.0 * ROOM_MM, high)
}

/// On one line, or on two of nearly the same length.
fn layouts(name: &str) -> Vec<Vec<String>> {
    let mut layouts = vec![vec![name.to_owned()]];
    let gaps = name.char_indices().filter(|(_, letter)| *letter == ' ');
    let off_middle = |&(at, _): &(usize, char)| (2 * at).abs_diff(name.len());
    if let Some((at, _)) = gaps.min_by_key(off_middle) {
        let (one, two) = name.split_at(at);
        layouts.push(vec![one.to_owned(), two.trim_start().to_owned()]);
    }
    layouts
}

/// Points inside a polygon, from its middle outwards.
fn places(polygon: &[Point]) -> Vec<Point> {
    if polygon.len() < 3 {
        return Vec::new();
    }
    let area = Area::round(polygon);
    let middle = area.middle();
    let step = |n: usize| (n as f64 + 0.5) / PLACES as f64;
    let grid = (0..PLACES * PLACES).map(|n| {
        Point::new(
            area.left + area.width() * step(n % PLACES),
            area.top + area.height() * step(n / PLACES),
        )
    });
    let mut places: Vec<Point> = grid.filter(|&p| inside(p, polygon)).collect();
    let far = |p: &Point| (*p - middle).hypot();
    places.sort_by(|one, other| far(one).total_cmp(&far(other)));
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A frame 15 mm wide round an opening: its name goes beside the opening, which has its own.
    #[test]
    fn a_name_does_not_stand_in_an_opening_of_its_panel() {
        let square = |at: f64, side: f64| Area::new(at, at, side, side).corners().to_vec();
        let mut drawing = Drawing::of_shape("top", square(0.0, 70.0));
        let opening = ("cut out".to_owned(), square(15.0, 40.0));
        drawing.panels.insert(0, opening);
        let found = labels(&drawing, &Area::new(-10.0, -10.0, 80.0, 80.0), Vec::new());
        let names: Vec<String> = found.iter().map(|label| label.lines.concat()).collect();
        assert_eq!(names, ["cut out", "top"]);
        let hole = &drawing.panels[0].1;
        assert!(inside(found[0].middle, hole));
        assert!(!inside(found[1].middle, hole), "{:?}", found[1].middle);
    }

    fn panel(width: f64, height: f64) -> Drawing {
        let outline = Area::new(0.0, 0.0, width, height).corners().to_vec();
        Drawing::of_shape("left side flap", outline)
    }

    fn only(drawing: &Drawing, window: Area) -> Label {
        labels(drawing, &window, Vec::new()).remove(0)
    }

    #[test]
    fn a_name_stands_large_in_the_middle_where_there_is_room() {
        let label = only(&panel(60.0, 40.0), Area::new(-20.0, -20.0, 100.0, 100.0));
        assert_eq!(label.lines, ["left side flap"]);
        assert_eq!((label.size, label.angle_deg), (12.0, 0.0));
        assert_eq!(label.middle, Point::new(30.0, 20.0));
    }

    #[test]
    fn a_narrow_panel_turns_its_name_and_a_short_one_breaks_it() {
        let window = Area::new(0.0, 0.0, 100.0, 100.0);
        assert_eq!(only(&panel(8.0, 60.0), window).angle_deg, 90.0);
        let short = only(&panel(20.0, 14.0), window);
        assert_eq!(short.lines, ["left side", "flap"]);
    }

    #[test]
    fn a_name_stays_inside_what_the_window_shows() {
        let window = Area::new(35.0, 0.0, 100.0, 100.0);
        let label = only(&panel(80.0, 40.0), window);
        assert!(label.takes.0.iter().all(|corner| corner.x >= 35.0));
    }

    #[test]
    fn no_name_stands_where_something_is() {
        let drawing = panel(60.0, 40.0);
        let taken = Quad::round(Point::new(30.0, 20.0), (50.0, 10.0), 0.0);
        let window = Area::new(0.0, 0.0, 100.0, 100.0);
        let label = labels(&drawing, &window, vec![taken]).remove(0);
        assert!(!label.takes.overlaps(&taken));
    }
}
