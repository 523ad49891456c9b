//! The templates of a piece: each body, then the mats, the band, and the tag with its mat.

use tablefold_geometry::Length;

use super::font::can_write;
use super::template::{Shape, Template};
use crate::recipe::{MadeMat, MadePiece, PieceFacts, ProjectFacts, TagShape};

/// Every template of one piece, in the order in which it is made.
#[must_use]
pub fn piece_templates(
    project: &ProjectFacts,
    piece: &PieceFacts,
    made: &MadePiece,
) -> Vec<Template> {
    let sheet = sheet(piece, made);
    let notes = |role: &str| {
        let role = role.trim();
        // What the font cannot write would be a full stop, or a colon and nothing before it.
        let title = Some(project.title.as_str()).filter(|it| can_write(it));
        let paper = (!role.is_empty() && can_write(role)).then(|| format!("Paper: {role}."));
        let said: Vec<&str> = paper.as_deref().into_iter().chain(title).collect();
        said.join(" ")
    };
    let kind = made.structure.kind().name();
    let name = if can_write(&piece.name) {
        &piece.name
    } else {
        kind
    };
    let titled = |part: &str| match part == name {
        true => part.to_owned(),
        false => format!("{name}: {part}"),
    };
    let alone = made.structure.bodies().count() == 1;
    let bodies = made.structure.bodies().enumerate().map(|(at, body)| {
        let role = match at {
            0 => &piece.spec.role,
            _ => piece.spec.second_role(),
        };
        let title = match alone {
            true => titled(kind),
            false => titled(body.name),
        };
        Template::of_pattern(&title, &notes(role), &body.pattern, Some(sheet))
    });
    let mut templates: Vec<Template> = bodies.collect();
    if !made.mats.is_empty() {
        templates.push(mats(&titled("mats on the front"), notes, &made.mats, sheet));
    }
    if let (Some(spec), Some(band)) = (&piece.spec.band, &made.band) {
        let pattern = band.pattern();
        let title = titled("band");
        templates.push(Template::of_pattern(
            &title,
            &notes(&spec.role),
            &pattern,
            Some(sheet),
        ));
    }
    if let Some(spec) = &piece.spec.tag {
        let mut shapes = vec![("tag", shape(spec.shape))];
        if let Some(mat) = &spec.mat {
            shapes.push(("tag mat", shape(spec.shape.grown(mat.reveal * 2))));
        }
        let title = titled(if shapes.len() > 1 {
            "tag and its mat"
        } else {
            "tag"
        });
        templates.push(Template::of_shapes(&title, &notes(""), &shapes, sheet));
    }
    templates
}

/// The mats on the front of a card, on one page.
fn mats(
    title: &str,
    notes: impl Fn(&str) -> String,
    mats: &[MadeMat],
    sheet: (Length, Length),
) -> Template {
    let shape = |mat: &MadeMat| {
        let (width, height) = mat.shape.size();
        Shape::Rectangle(width, height)
    };
    let shapes: Vec<(&str, Shape)> = mats.iter().map(|mat| (mat.name, shape(mat))).collect();
    let roles: Vec<&str> = mats.iter().map(|mat| mat.role.as_str()).collect();
    Template::of_shapes(title, &notes(&roles.join(", ")), &shapes, sheet)
}

/// The sheet that serves best; the paper's own size if none is named.
fn sheet(piece: &PieceFacts, made: &MadePiece) -> (Length, Length) {
    let best = made.best_sheet.as_ref();
    let best = best.and_then(|(name, _)| piece.sheets.iter().find(|sheet| sheet.name == *name));
    best.map_or((piece.paper.width, piece.paper.height), |sheet| {
        (sheet.width, sheet.height)
    })
}

fn shape(shape: TagShape) -> Shape {
    match shape {
        TagShape::Circle { diameter } => Shape::Circle(diameter),
        TagShape::Rectangle { width, height } => Shape::Rectangle(width, height),
    }
}
