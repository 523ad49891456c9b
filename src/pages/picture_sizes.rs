//! How large each page shows its pictures. The style sheet leaves these places for them; from them
//! follows how a picture is drawn, so that every word in it can be read there.
//!
//! On paper a word has 12 points at least, 14 in large print (RNIB, clear print guidelines); on a
//! screen 12 px, at 360 px width too.

use tablefold_geometry::PictureSize;

/// A point in mm: 1/72 in (ISO 32000-2, 8.3.2.3).
const POINT_MM: f64 = 25.4 / 72.0;
const LEAST_PX: f64 = 12.0;

/// A place on paper, in mm.
fn on_paper(width: f64, height: f64, large: bool) -> PictureSize {
    let points = if large { 14.0 } else { 12.0 };
    PictureSize::new(width, height, points * POINT_MM)
}

/// On the page of a project or a piece, or of one step.
#[must_use]
pub fn on_screen() -> PictureSize {
    PictureSize::new(300.0, 512.0, LEAST_PX)
}

/// Beside the words of a step on the page of its project.
#[must_use]
pub fn in_step_list() -> PictureSize {
    PictureSize::new(270.0, 320.0, LEAST_PX)
}

/// On a step card, so many to a page.
#[must_use]
pub fn on_card(per_page: usize, large: bool) -> PictureSize {
    match (per_page, large) {
        (1, _) => on_paper(150.0, 115.0, large),
        (2, false) => on_paper(112.0, 98.0, large),
        (2, true) => on_paper(92.0, 82.0, large),
        // A wide one over its legend, another beside it.
        _ => on_paper(92.0, 43.8, large).or(on_paper(59.0, 53.5, large)),
    }
}

/// On a phone; its page can be printed as well.
#[must_use]
pub fn on_phone(large: bool) -> PictureSize {
    PictureSize::new(360.0, 214.0, LEAST_PX).within(on_paper(92.0, 88.0, large))
}

/// A template on the one page of a project with so many pieces. Where several share it, they are
/// shown without words, which so need no room: all measures stand beside them.
#[must_use]
pub fn on_project_sheet(pieces: usize) -> PictureSize {
    match pieces {
        1 => on_paper(58.0, 76.0, false),
        _ => PictureSize::FREE,
    }
}

/// A sheet of paper on the card that says how it is cut.
#[must_use]
pub fn on_cut_card() -> PictureSize {
    on_paper(46.0, 60.0, false)
}

/// A frame of waste on the prep list.
#[must_use]
pub fn on_prep_list() -> PictureSize {
    on_paper(58.0, 58.0, false)
}

#[cfg(test)]
mod tests {
    use tablefold_geometry::Scene;

    use super::*;
    use crate::recipe::structure_tests::every;
    use crate::recipe::{draw, template};

    fn places() -> [(&'static str, PictureSize); 10] {
        [
            ("card, 1", on_card(1, false)),
            ("card, 2", on_card(2, false)),
            ("card, 4", on_card(4, false)),
            ("large card, 1", on_card(1, true)),
            ("large card, 2", on_card(2, true)),
            ("phone", on_phone(false)),
            ("large phone", on_phone(true)),
            ("screen", on_screen()),
            ("step list", in_step_list()),
            ("sheet", on_project_sheet(1)),
        ]
    }

    fn faults(scene: &Scene, size: PictureSize) -> Vec<String> {
        let mut faults = scene.illegible();
        if !size.holds(scene) && scene.text_boxes().next().is_some() {
            faults.push("its letters would shrink".to_owned());
        }
        faults
    }

    /// Nothing lies over a crease, a cut, the edge of a hole or another word; a measure lies beside
    /// what it measures; and all of it has room at the least size of its letters.
    #[test]
    fn words_in_the_pictures_of_every_structure_can_be_read_in_every_place() {
        let mut found = Vec::new();
        for (kind, project, recipe) in every() {
            for (place, size) in places() {
                let mut look = |what: &str, scene: &Scene| {
                    let faults = faults(scene, size).into_iter();
                    let told = faults.map(|it| format!("{}, {what}, {place}: {it}", kind.slug()));
                    found.extend(told);
                };
                for step in &recipe.steps {
                    let operation = &step.operation;
                    for mirrored in [false, true] {
                        let scene = draw(&project, &recipe.pieces, operation, mirrored, size);
                        look(&operation.key, &scene.expect("each step has one"));
                    }
                }
                for body in recipe.pieces[0].structure.bodies() {
                    look(body.name, &template(&project, &body.pattern, size));
                }
            }
        }
        assert!(
            found.is_empty(),
            "{}: {:#?}",
            found.len(),
            &found[..found.len().min(40)]
        );
    }
}
