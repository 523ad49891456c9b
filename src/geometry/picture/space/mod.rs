//! Paper in space, part-way folded, with whatever is hidden left out.
//!
//! ```text
//!  pattern + angles + placement, contents
//!     --(stage)--> sheets, edges --(bsp)--> parts, back to front
//!     --(visible)--> areas and lines that are to be seen --(here)--> Scene
//! ```
//!
//! Inside and outside of the paper have tints of their own, sides away from the light a darker
//! one. What moves now is in the accent, with an arc that follows the turn. Nothing hidden is in
//! the scene; areas of one tint are one path, so that a picture stays small.

mod arrows;
mod bsp;
mod contents;
mod convex;
mod drawing;
mod hidden;
mod lying;
mod moments;
mod stage;
#[cfg(test)]
mod tests;
mod view;
mod visible;
mod ways;
mod words;

use super::scene::Scene;
use super::size::PictureSize;
use crate::{CreaseId, PanelId, Pattern, Pose, Vec3};

pub use contents::{SpaceAxis, SpaceContents, SpaceShape};
pub use moments::{
    FillingPicture, FoldPicture, GluePicture, filling_picture, fold_picture, folded_portrait,
    glue_picture,
};
pub use view::SpaceView;

use stage::{Skin, Stage};

/// A piece of paper at one moment, somewhere in space.
#[derive(Clone, Debug)]
pub struct SpaceBody<'a> {
    /// The paper.
    pub pattern: &'a Pattern,
    /// The angle of each crease, degrees.
    pub angles: Vec<f64>,
    /// Where its root panel lies.
    pub place: Pose,
    /// Creases that are folded now, and the angle that each comes to.
    pub moves: Vec<(CreaseId, f64)>,
    /// Glue zones that take glue now, by index.
    pub glue: Vec<usize>,
    /// The way on which it is carried as a whole now, mm.
    pub carried: Option<Vec3>,
}

impl<'a> SpaceBody<'a> {
    /// At rest where its pattern was drawn, folded to these angles.
    #[must_use]
    pub const fn at_rest(pattern: &'a Pattern, angles: Vec<f64>) -> Self {
        Self {
            pattern,
            angles,
            place: Pose::FLAT,
            moves: Vec::new(),
            glue: Vec::new(),
            carried: None,
        }
    }

    /// What each panel is: one that is folded moves, with the other strips of its curve.
    fn skins(&self) -> Vec<Skin> {
        let creases = &self.pattern.creases;
        let mut moves = vec![self.carried.is_some(); self.pattern.panels.len()];
        let folded = self.moves.iter().filter_map(|(id, _)| creases.get(id.0));
        let mut next: Vec<PanelId> = folded.map(|crease| crease.child).collect();
        while let Some(panel) = next.pop() {
            let Some(is_new) = moves.get_mut(panel.0).filter(|moves| !**moves) else {
                continue;
            };
            *is_new = true;
            let bends = creases.iter().filter(|crease| crease.smooth);
            next.extend(bends.filter_map(|crease| match panel {
                it if it == crease.parent => Some(crease.child),
                it if it == crease.child => Some(crease.parent),
                _ => None,
            }));
        }
        let skin = |moves| if moves { Skin::Moving } else { Skin::Paper };
        moves.into_iter().map(skin).collect()
    }
}

/// The facts of a picture in space.
#[derive(Clone, Debug)]
pub struct SpacePicture<'a> {
    /// What is done, in a few words.
    pub title: String,
    /// Pieces of paper.
    pub bodies: &'a [SpaceBody<'a>],
    /// From where they are seen.
    pub view: SpaceView,
    /// What goes inside, with its name and the way it moves now, if it is drawn.
    pub contents: Option<(SpaceContents, &'a str, Option<Vec3>)>,
    /// Whether parts are named and arrows drawn; a portrait in a list has neither.
    pub plain: bool,
    /// For left-handers.
    pub mirrored: bool,
}

/// Draws pieces of paper in space.
#[must_use]
pub fn space_picture(facts: &SpacePicture<'_>, size: PictureSize) -> Scene {
    let mut stage = Stage::default();
    for body in facts.bodies {
        stage.add_body(body);
    }
    if let Some((contents, ..)) = &facts.contents {
        stage.add_seen(contents, &facts.view);
    }
    let seen = visible::look(&mut stage, &facts.view);
    let drawing = drawing::Drawing {
        facts,
        stage: &stage,
        seen: &seen,
        arrows: if facts.plain {
            Vec::new()
        } else {
            arrows::arrows(facts, &stage, &seen)
        },
    };
    let (title, description) = (words::said(facts, &facts.title), words::description(facts));
    let scene = size.fitted(|size| drawing.scene(&title, &description, size));
    if facts.mirrored {
        scene.mirrored()
    } else {
        scene
    }
}
