//! A frame of waste that brings many equal blanks to the same place: the waste, its opening, a
//! blank lying in it, and what comes on the blank.

use kurbo::{Circle, Point, Rect, Shape};

use super::canvas::{Canvas, LabelStyle, drawable};
use super::scene::{LineRole, Scene};
use super::size::PictureSize;
use crate::{Length, Ruler};

/// The facts of a frame.
#[derive(Clone, Copy, Debug)]
pub struct FramePicture<'a> {
    /// How measures read; fine enough for the opening.
    pub ruler: &'a Ruler,
    /// Width and height of the frame.
    pub outside: (Length, Length),
    /// Width and height of the opening.
    pub opening: (Length, Length),
    /// Width and height of what lies in it.
    pub blank: (Length, Length),
    /// Whether opening and blank are round.
    pub round: bool,
    /// Diameter of what comes on the middle of the blank, where it is known.
    pub mark: Option<Length>,
}

/// Draws a frame with a blank in it.
#[must_use]
pub fn frame_picture(facts: FramePicture<'_>, size: PictureSize) -> Scene {
    size.fitted(|size| draw(facts, size))
}

fn draw(facts: FramePicture<'_>, size: PictureSize) -> Scene {
    let outside = centred(facts.outside);
    let opening = centred(facts.opening);
    // A tall frame gets ground beside it, so that its measures stay readable.
    let spare = (outside.height().max(outside.width()) - outside.width()) / 2.0;
    let (margins, style) = match size.is_small() {
        true => ([2.0, 10.0, 30.0, 2.0], LabelStyle::NOW),
        false => ([4.0, 15.0, 46.0, 4.0], LabelStyle::LARGE_NOW),
    };
    let mut canvas = Canvas::round(size, outside.inflate(spare, 0.0), margins);
    canvas.area(LineRole::Waste, false, &outside);
    canvas.draw(LineRole::Outline, false, &outside);
    for (rect, area, line, now) in [
        (opening, LineRole::Back, LineRole::Cut, true),
        (
            centred(facts.blank),
            LineRole::Front,
            LineRole::Outline,
            false,
        ),
    ] {
        if facts.round {
            let circle = Circle::new(rect.center(), rect.width() / 2.0);
            shape(&mut canvas, &circle, (area, line), now);
        } else {
            shape(&mut canvas, &rect, (area, line), now);
        }
    }
    if let Some(across) = facts.mark {
        let mark = Circle::new(Point::ORIGIN, drawable(across.mm()) / 2.0);
        canvas.draw(LineRole::Guide, false, &mark);
    }
    measures(&mut canvas, &facts, (outside, opening), style);
    canvas.finish("A frame for the blanks".to_owned(), description(&facts))
}

fn shape(canvas: &mut Canvas, shape: &impl Shape, (area, line): (LineRole, LineRole), now: bool) {
    canvas.area(area, false, shape);
    canvas.draw(line, now, shape);
}

fn measures(
    canvas: &mut Canvas,
    facts: &FramePicture<'_>,
    (outside, opening): (Rect, Rect),
    style: LabelStyle,
) {
    let text = |length| facts.ruler.text(length);
    let over = (opening.y0 - outside.y0) / canvas.u() + 4.0;
    let beside = (outside.x1 - opening.x1) / canvas.u() + 4.0;
    let [left, right] = [opening.x0, opening.x1].map(|x| Point::new(x, opening.y0));
    canvas.dimension(left, right, over, &text(facts.opening.0), style);
    if !facts.round {
        let low = Point::new(opening.x1, opening.y1);
        canvas.dimension(right, low, beside, &text(facts.opening.1), style);
    }
}

fn centred((width, height): (Length, Length)) -> Rect {
    let (w, h) = (drawable(width.mm()), drawable(height.mm()));
    Rect::new(-w / 2.0, -h / 2.0, w / 2.0, h / 2.0)
}

fn description(facts: &FramePicture<'_>) -> String {
    let text = |length| facts.ruler.text(length);
    let opening = if facts.round {
        format!("a round opening {} across", text(facts.opening.0))
    } else {
        format!(
            "an opening {} by {}",
            text(facts.opening.0),
            text(facts.opening.1)
        )
    };
    let mark = match facts.mark {
        Some(across) => format!(
            " What comes on it, {} across, is drawn in its middle.",
            text(across)
        ),
        None => String::new(),
    };
    format!(
        "A piece of waste {} by {} with {opening}. A blank lies in it.{mark}",
        text(facts.outside.0),
        text(facts.outside.1),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::SceneItem;

    fn facts(ruler: &Ruler) -> FramePicture<'_> {
        let eighths = |n: i64| Length::from_nm(n * 3_175_000);
        let play = Length::from_nm(793_750);
        FramePicture {
            ruler,
            outside: (eighths(18) + play, eighths(20) + play),
            opening: (eighths(10) + play, eighths(12) + play),
            blank: (eighths(10), eighths(12)),
            round: false,
            mark: Some(eighths(8)),
        }
    }

    #[test]
    fn a_frame_says_its_opening_and_draws_blank_and_mark_inside() {
        let ruler = Ruler::inch(32);
        let scene = frame_picture(facts(&ruler), PictureSize::FREE);
        insta::assert_snapshot!(scene.description, @"A piece of waste 2 9/32 in by 2 17/32 in with an opening 1 9/32 in by 1 17/32 in. A blank lies in it. What comes on it, 1 in across, is drawn in its middle.");
        let bounds = |role| {
            let of_role = scene.items.iter().filter_map(move |item| match item {
                SceneItem::Path(path) if path.role == role => Some(path.d.bounding_box()),
                _ => None,
            });
            of_role.reduce(|a, b| a.union(b)).expect("drawn")
        };
        let (waste, opening) = (bounds(LineRole::Waste), bounds(LineRole::Cut));
        let (blank, mark) = (bounds(LineRole::Front), bounds(LineRole::Guide));
        for (outer, inner) in [(waste, opening), (opening, blank), (blank, mark)] {
            assert_eq!(outer.intersect(inner), inner);
            assert!(outer.width() > inner.width() && outer.height() > inner.height());
        }
        assert!((opening.width() - blank.width() - 0.793_75).abs() < 1e-9);
    }

    #[test]
    fn labels_of_a_frame_stay_apart_and_in_view() {
        let ruler = Ruler::inch(32);
        let tall = FramePicture {
            opening: (Length::from_mm(20), Length::from_mm(200)),
            blank: (Length::from_mm(19), Length::from_mm(199)),
            outside: (Length::from_mm(45), Length::from_mm(225)),
            mark: None,
            ..facts(&ruler)
        };
        let round = FramePicture {
            round: true,
            opening: (Length::from_mm(25), Length::from_mm(25)),
            blank: (Length::from_mm(25), Length::from_mm(25)),
            ..facts(&ruler)
        };
        for scene in
            [facts(&ruler), tall, round].map(|facts| frame_picture(facts, PictureSize::FREE))
        {
            let boxes: Vec<Rect> = scene.text_boxes().map(|(_, bounds)| bounds).collect();
            assert!(!boxes.is_empty());
            for (index, a) in boxes.iter().enumerate() {
                assert_eq!(scene.view.intersect(*a), *a, "{:?} leaves the view", a);
                let others = &boxes[index + 1..];
                assert!(
                    others.iter().all(|b| a.intersect(*b).is_zero_area()),
                    "{boxes:?}"
                );
            }
        }
    }
}
