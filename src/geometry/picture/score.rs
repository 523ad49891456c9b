//! A strip on the score board: its left end at zero, the marks to score.
//!
//! ```text
//!   0   1   2   3     ruler grows to the right
//!   +---+---:---:--+
//!   |   :   :   :  |  done thin, now thick; one mark now is shown through a lens
//!   +---+---:---:--+
//! ```
//!
//! A score board is the same tool for either hand, so this picture is never mirrored.

use kurbo::{BezPath, Line, Point, Rect, Shape, Vec2};

use super::canvas::{Canvas, LabelStyle, drawable, polygon};
use super::lens::{AtTheMark, Lens, LensAt};
use super::ruler_marks::RulerStrip;
use super::scene::{Anchor, LineRole, Scene, TextSize};
use super::size::PictureSize;
use crate::{Length, Ruler};

/// The facts of a score picture.
#[derive(Clone, Copy, Debug)]
pub struct ScorePicture<'a> {
    /// The score board's ruler.
    pub ruler: &'a Ruler,
    /// What is scored: "band".
    pub part: &'a str,
    /// Along the ruler and across it.
    pub strip: (Length, Length),
    /// The marks to score now, from the left end.
    pub marks: &'a [Length],
    /// The lines that this one mark scores, one edge after the other, as they lie with the first
    /// edge at zero: mm from the top left corner. Without any, each mark scores straight across.
    pub lines: &'a [Line],
    /// Lines that are there already.
    pub done: &'a [Line],
    /// Outlines of what is cut out of it, as they lie.
    pub windows: &'a [Vec<Point>],
    /// Whether the strip is turned end for end before this.
    pub turned: bool,
}

/// Height of the band with the ruler above the strip, `u`.
const BAND: f64 = 10.0;
/// Height of a row of measures above the ruler, `u`.
const ROW: f64 = 6.0;

/// Measures of many marks stand in so many rows at most.
const MOST_ROWS: usize = 2;

/// Draws a strip on the score board.
#[must_use]
pub fn score_picture(facts: ScorePicture<'_>, size: PictureSize) -> Scene {
    size.fitted(|size| draw(facts, size))
}

fn draw(facts: ScorePicture<'_>, size: PictureSize) -> Scene {
    let (along, across) = (drawable(facts.strip.0.mm()), drawable(facts.strip.1.mm()));
    let across = across.min(1.2 * along).max(0.1 * along);
    let strip = Rect::new(0.0, 0.0, along, across);
    // The length of the strip is told beside a small picture.
    let below = if size.is_small() { 3.0 } else { 11.0 };
    let (lens, margins) = match facts.marks {
        [_] => LensAt::choose(size, strip, [7.0, BAND, 7.0, below]),
        marks => {
            let rows = 2.0 + ROW * marks.len().min(MOST_ROWS) as f64;
            (LensAt::Nowhere, [9.0, BAND + rows, 9.0, below])
        }
    };
    let mut canvas = Canvas::round(size, strip, margins);
    draw_strip(&mut canvas, &facts, (strip, lens));
    let (from, to) = (Point::new(0.0, across), Point::new(along, across));
    if !size.is_small() {
        let along = facts.ruler.text(facts.strip.0);
        canvas.dimension(from, to, -2.5, &along, LabelStyle::SMALL);
    }
    match facts.marks {
        [mark] => Lens {
            ruler: facts.ruler,
            set: *mark,
            mark: Point::new(mark.mm(), 0.0),
            band: BAND,
            grows_left: false,
            shows: AtTheMark::Score,
            at: lens,
        }
        .draw(&mut canvas),
        marks => write_marks(&mut canvas, facts.ruler, marks),
    }
    RulerStrip {
        ruler: facts.ruler,
        shown: (Length::from_nm(1), facts.strip.0),
        zero: Point::ORIGIN,
        scale: 1.0,
        closest: 1.0,
        numbers_within: None,
    }
    .draw(&mut canvas);
    canvas.finish(title(&facts), description(&facts))
}

fn draw_strip(canvas: &mut Canvas, facts: &ScorePicture<'_>, (strip, lens): (Rect, LensAt)) {
    let (u, view) = (canvas.u(), canvas.view());
    let end = lens.tool_end(view, u);
    let body = Rect::new(view.x0 + u, -BAND * u, end, strip.y1 + 1.5 * u);
    canvas.area(LineRole::Tool, false, &body.to_rounded_rect(2.0 * u));
    canvas.area(LineRole::Back, false, &strip);
    canvas.draw(LineRole::Outline, false, &strip);
    // A strip that is drawn shorter or taller than it is.
    let scale = strip.y1 / drawable(facts.strip.1.mm());
    let drawn = |line: &Line| {
        let [a, b] = [line.p0, line.p1].map(|p| Point::new(p.x, p.y * scale));
        (a, b)
    };
    let hole = |window: &Vec<Point>| {
        let corners = window.iter().map(|p| Point::new(p.x, p.y * scale));
        polygon(&corners.collect::<Vec<_>>())
    };
    let holes: Vec<BezPath> = facts.windows.iter().map(hole).collect();
    for hole in &holes {
        canvas.area(LineRole::Tool, false, hole);
        canvas.draw(LineRole::Outline, false, hole);
    }
    for (a, b) in facts.done.iter().map(drawn) {
        canvas.line(LineRole::Crease, false, a, b);
    }
    let lines: Vec<(Point, Point)> = facts.lines.iter().map(drawn).collect();
    for (a, b) in &lines {
        canvas.line(LineRole::Crease, true, *a, *b);
    }
    if lines.is_empty() {
        for mark in facts.marks {
            let x = mark.mm();
            let (top, foot) = (Point::new(x, 0.0), Point::new(x, strip.y1));
            canvas.line(LineRole::Crease, true, top, foot);
        }
    }
    if lines.len() > 1 {
        draw_turn(canvas, facts, strip, &holes);
        for (index, line) in lines.iter().enumerate() {
            number_line(canvas, &(index + 1).to_string(), *line);
        }
    }
}

/// The way the sheet is turned for the next line: in the middle of it, or round a hole there.
fn draw_turn(canvas: &mut Canvas, facts: &ScorePicture<'_>, strip: Rect, holes: &[BezPath]) {
    let u = canvas.u();
    let short = strip.width().min(strip.height());
    let hole = holes
        .iter()
        .map(Shape::bounding_box)
        .reduce(|a, b| a.union(b));
    let centre = hole.map_or(strip.center(), |hole| hole.center());
    let reach = hole.map_or(0.0, |hole| hole.size().to_vec2().hypot() / 2.0 + 1.5 * u);
    let radius = (0.16 * short).clamp(3.0 * u, 9.0 * u).max(reach);
    // Where the hole leaves no paper round it, the words alone tell.
    if radius + u < short / 2.0 {
        match turn(facts) {
            "half round" => canvas.half_turn(true, centre, radius),
            _ => canvas.quarter_turn(true, centre, radius),
        }
    }
    let mut places: Vec<_> = [3.5, -3.5]
        .map(|off: f64| centre + Vec2::new(0.0, off * u + radius.copysign(off)))
        .map(|at| (at, Anchor::Middle))
        .to_vec();
    if hole.is_none() {
        places.push((centre, Anchor::Middle));
    }
    let style = LabelStyle {
        size: TextSize::Small,
        now: true,
    };
    canvas.label_if_room(&format!("turn {}", turn(facts)), style, &places);
}

/// A number beside a line near one of its ends, where no other line crosses it.
fn number_line(canvas: &mut Canvas, number: &str, (a, b): (Point, Point)) {
    let beside = if (b.x - a.x).abs() > (b.y - a.y).abs() {
        Vec2::new(0.0, 3.2)
    } else {
        Vec2::new(3.2, 0.0)
    };
    let beside = beside * canvas.u();
    let places: Vec<_> = [0.12, 0.88, 0.3, 0.7, 0.45]
        .into_iter()
        .flat_map(|t| [a.lerp(b, t) + beside, a.lerp(b, t) - beside])
        .map(|at| (at, Anchor::Middle))
        .collect();
    canvas.label(number, LabelStyle::NOW, &places, Some(a.midpoint(b)));
}

/// How the sheet is turned from the first line to the second.
fn turn(facts: &ScorePicture<'_>) -> &'static str {
    let is_level = |line: &Line| (line.p1.x - line.p0.x).abs() > (line.p1.y - line.p0.y).abs();
    match facts.lines.get(1) {
        Some(second) if is_level(second) => "a quarter",
        _ => "half round",
    }
}

/// Each mark with its measure, in rows above the ruler so that they keep apart.
fn write_marks(canvas: &mut Canvas, ruler: &Ruler, marks: &[Length]) {
    let u = canvas.u();
    for mark in marks {
        let foot = Point::new(mark.mm(), -0.4 * u);
        canvas.keep_clear(Rect::new(
            foot.x - 0.7 * u,
            -BAND * u,
            foot.x + 0.7 * u,
            foot.y,
        ));
        canvas.arrow(true, Point::new(foot.x, -(BAND + 1.0) * u), foot);
    }
    for mark in marks {
        let places: Vec<_> = (0..MOST_ROWS)
            .flat_map(|row| {
                let y = -(BAND + 1.0 + ROW * (row as f64 + 0.5)) * u;
                let at = |by: f64, anchor| (Point::new(mark.mm() + by * u, y), anchor);
                [
                    at(0.0, Anchor::Middle),
                    at(3.0, Anchor::End),
                    at(-3.0, Anchor::Start),
                ]
            })
            .collect();
        let at = Point::new(mark.mm(), 0.0);
        canvas.label(&ruler.text(*mark), LabelStyle::NOW, &places, Some(at));
    }
}

fn listed(facts: &ScorePicture<'_>) -> String {
    let marks: Vec<String> = facts
        .marks
        .iter()
        .map(|mark| facts.ruler.text(*mark))
        .collect();
    match marks.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => "no mark".to_owned(),
    }
}

fn title(facts: &ScorePicture<'_>) -> String {
    format!("Score the {} at {}", facts.part, listed(facts))
}

fn description(facts: &ScorePicture<'_>) -> String {
    let (ruler, strip) = (facts.ruler, facts.strip);
    let turned = if facts.turned {
        ", turned end for end"
    } else {
        ""
    };
    let again = match facts.lines.len() {
        0 | 1 => String::new(),
        2 => format!(" Turn it {} and score again.", turn(facts)),
        n => format!(
            " Turn it {} and score again, {n} lines in all.",
            turn(facts)
        ),
    };
    let done = match facts.done.len() {
        0 => String::new(),
        1 => " 1 score is there already.".to_owned(),
        n => format!(" {n} scores are there already."),
    };
    format!(
        "The {}, {} by {}, on the score board{turned}, its left end at zero. Score at {} from the \
         left end.{again}{done}",
        facts.part,
        ruler.text(strip.0),
        ruler.text(strip.1),
        listed(facts),
    )
}

#[cfg(test)]
mod tests {
    use super::super::scene::SceneItem;
    use super::*;

    /// A lid with a round window of this radius in its middle, scored on all four sides.
    fn lid_with_window(radius_mm: f64, size: PictureSize) -> Scene {
        let side = 90.0;
        let lines = [
            Line::new((20.0, 0.0), (20.0, side)),
            Line::new((0.0, 70.0), (side, 70.0)),
            Line::new((70.0, side), (70.0, 0.0)),
            Line::new((side, 20.0), (0.0, 20.0)),
        ];
        let corner = |n: i32| {
            let (sin, cos) = f64::from(n * 15).to_radians().sin_cos();
            Point::new(side / 2.0 + radius_mm * cos, side / 2.0 + radius_mm * sin)
        };
        let facts = ScorePicture {
            ruler: &Ruler::millimetre(),
            part: "lid sheet",
            strip: (Length::from_mm(90), Length::from_mm(90)),
            marks: &[Length::from_mm(20)],
            lines: &lines,
            done: &[],
            windows: &[(0..24).map(corner).collect()],
            turned: false,
        };
        score_picture(facts, size)
    }

    #[test]
    fn the_arrow_of_a_turn_goes_round_a_hole_not_over_it() {
        let small = PictureSize::new(176.0, 156.0, 12.0);
        for (radius_mm, size) in [
            (12.0, PictureSize::FREE),
            (24.0, PictureSize::FREE),
            (12.0, small),
            (44.0, small),
        ] {
            let scene = lid_with_window(radius_mm, size);
            let hole = kurbo::Circle::new((45.0, 45.0), radius_mm * 0.99);
            let mut arrows = scene.items.iter().filter_map(|item| match item {
                SceneItem::Path(path) if path.role == LineRole::Arrow => Some(&path.d),
                _ => None,
            });
            let over = arrows.any(|arrow| {
                let mut points = arrow.elements().iter().filter_map(|it| it.end_point());
                points.any(|point| hole.winding(point) != 0)
            });
            assert!(!over, "a window of {radius_mm} mm");
        }
    }
}
