//! Draws a step's picture from the piece and the tools it is made with.

use tablefold_geometry::{
    BezPath, CutPicture, FinishedPicture, FlatNow, FlatPicture, LayersPicture, Length, MatShape,
    NotchPicture, Pattern, PictureLayer, PictureSize, PunchNow, PunchPicture, RibbonPicture,
    RibbonPictureKind, Scene, ScorePicture, SetOn, ShapePicture, WasteReason, WrapPicture,
    cut_picture, finished_picture, flat_picture, layers_picture, length_picture, notch_picture,
    punch_picture, ribbon_picture, score_picture, shape_picture, wrap_picture,
};

use super::facts::{PieceFacts, ProjectFacts, RibbonStyle, TagShape};
use super::folded::in_space;
use super::left_hand::lies_one_way;
use super::made::MadePiece;
use super::operation::Operation;
use super::step_picture::StepPicture;
use super::tag::blank;
use super::work_picture::work_picture;

/// The picture of a step, if it has one. `mirrored` is for left-handers: it turns what the hands
/// do, never the tools or what is made along a template. Its words can be read where it is shown
/// in this `size`.
#[must_use]
pub fn draw(
    project: &ProjectFacts,
    pieces: &[MadePiece],
    operation: &Operation,
    mirrored: bool,
    size: PictureSize,
) -> Option<Scene> {
    let index = operation.piece?;
    let drawing = Drawing {
        project,
        made: pieces.get(index)?,
        facts: project.pieces.get(index)?,
        size,
    };
    let picture = &operation.picture;
    let mirrored = mirrored && !lies_one_way(&drawing.made.structure);
    let on_piece = || {
        let scene = drawing.piece(picture)?;
        Some(if mirrored { scene.mirrored() } else { scene })
    };
    drawing
        .tool(picture)
        .or_else(|| {
            work_picture(
                project,
                (drawing.made, drawing.facts),
                picture,
                mirrored,
                size,
            )
        })
        .or_else(|| in_space((drawing.made, drawing.facts), picture, mirrored, size))
        .or_else(|| drawing.flat(picture, mirrored))
        .or_else(on_piece)
}

/// The template of one body with its sizes.
#[must_use]
pub fn template(project: &ProjectFacts, pattern: &Pattern, size: PictureSize) -> Scene {
    flat_picture(
        FlatPicture {
            pattern,
            ruler: project.board.ruler(),
            now: FlatNow::Template,
            along: &[],
            is_cut: true,
            mirrored: false,
        },
        size,
    )
}

struct Drawing<'a> {
    project: &'a ProjectFacts,
    made: &'a MadePiece,
    facts: &'a PieceFacts,
    size: PictureSize,
}

impl Drawing<'_> {
    /// Steps on a tool with a fence.
    fn tool(&self, picture: &StepPicture) -> Option<Scene> {
        match picture {
            StepPicture::Cut { width, .. } => Some(cut_picture(
                CutPicture {
                    ruler: self.project.trimmer.ruler(),
                    sheet: (self.facts.paper.width, self.facts.paper.height),
                    setting: *width,
                    strips: strips(self.facts.paper.width, *width),
                },
                self.size,
            )),
            StepPicture::Punch { side, punch } => Some(self.punches(*side, *punch)),
            StepPicture::BandScore => self.band_score(),
            // The fold of a card is on the left whatever the hand.
            StepPicture::Mat { index } => self.mat(*index),
            _ => None,
        }
    }

    fn punches(&self, side: u8, punch: Option<usize>) -> Scene {
        let sheet = self.made.structure.blank().0;
        let punches = self.made.structure.settings().on(SetOn::PunchBoard);
        punch_picture(
            PunchPicture {
                board: &self.project.board,
                sheet,
                punches: &punches,
                side,
                now: punch.map_or(PunchNow::AlongGuide, PunchNow::Punch),
            },
            self.size,
        )
    }

    /// The card with its mats, up to the one that goes on now.
    fn mat(&self, index: usize) -> Option<Scene> {
        let mats = self.made.mats.get(..=index)?;
        let card = ("card", mats.first()?.below);
        let all = mats.iter().map(|mat| (mat.name, mat.shape));
        let layers: Vec<PictureLayer<'_>> = std::iter::once(card)
            .chain(all)
            .map(|(name, shape)| PictureLayer {
                name,
                outline: shape.outline(),
            })
            .collect();
        Some(layers_picture(
            LayersPicture {
                ruler: self.project.board.ruler(),
                layers: &layers,
                has_fold: true,
            },
            self.size,
        ))
    }

    fn band_score(&self) -> Option<Scene> {
        let band = self.made.band.as_ref()?;
        let mut marks: Vec<Length> = band
            .creases()
            .iter()
            .filter(|crease| !crease.from_right)
            .map(|c| c.mark)
            .collect();
        marks.sort_unstable();
        Some(score_picture(
            ScorePicture {
                ruler: &self.project.score_ruler,
                part: "band",
                strip: (band.strip_length(), band.strip_width()),
                marks: &marks,
                lines: &[],
                done: &[],
                windows: &[],
                turned: false,
            },
            self.size,
        ))
    }

    /// Steps on the paper lying flat.
    fn flat(&self, picture: &StepPicture, mirrored: bool) -> Option<Scene> {
        let pattern = &self.made.pattern;
        let (now, is_cut) = match picture {
            StepPicture::FreeTabs => (FlatNow::Cuts, false),
            StepPicture::Trim => (FlatNow::TakeOff(WasteReason::Trim), true),
            StepPicture::Round => (FlatNow::TakeOff(WasteReason::Rounded), true),
            StepPicture::Burnish => (FlatNow::Burnish, true),
            _ => return None,
        };
        let ruler = self.project.board.ruler();
        Some(flat_picture(
            FlatPicture {
                pattern,
                ruler,
                now,
                along: &[],
                is_cut,
                mirrored,
            },
            self.size,
        ))
    }

    /// Steps on the finished piece and on what goes with it.
    fn piece(&self, picture: &StepPicture) -> Option<Scene> {
        let ruler = self.project.board.ruler();
        let around = self.made.outside;
        let front_mm = (around.width_mm, around.length_mm);
        Some(match picture {
            StepPicture::BandNotch => {
                let (band, notch) = (self.made.band.as_ref()?, self.notch()?);
                notch_picture(
                    NotchPicture {
                        ruler,
                        part: "band",
                        edge_mm: band.strip_length().mm(),
                        depth_mm: band.strip_width().mm(),
                        radius_mm: notch.mm() / 2.0,
                    },
                    self.size,
                )
            }
            StepPicture::BandWrap => wrap_picture(
                WrapPicture {
                    ruler,
                    part: "band",
                    around_mm: (around.width_mm, around.depth_mm),
                    overlap_mm: self.made.band.as_ref()?.overlap_mm(),
                    glued: true,
                },
                self.size,
            ),
            StepPicture::Stamp { layer } => {
                let shape = *self.layers().get(*layer)?;
                let blank = blank(shape, self.project.trimmer.ruler()).ok()?;
                shape_picture(
                    &ShapePicture {
                        ruler,
                        name: if *layer == 0 { "tag" } else { "tag mat" },
                        outline: outline(shape),
                        blank,
                    },
                    self.size,
                )
            }
            StepPicture::Layers => layers_picture(
                LayersPicture {
                    ruler,
                    layers: &self.tag(),
                    has_fold: false,
                },
                self.size,
            ),
            StepPicture::AttachTag => finished_picture(
                FinishedPicture {
                    ruler,
                    name: &self.made.name,
                    front_mm,
                    band_mm: self.made.band.as_ref().map(|band| band.strip_width().mm()),
                    on_front: &self.tag(),
                    attach_now: true,
                },
                self.size,
            ),
            StepPicture::RibbonCut { length } => {
                length_picture("ribbon", *length, ruler, self.size)
            }
            StepPicture::Tie => ribbon_picture(
                RibbonPicture {
                    ruler,
                    kind: match self.facts.spec.ribbon.as_ref()?.style {
                        RibbonStyle::Bow => RibbonPictureKind::Bow,
                        RibbonStyle::Wrap => RibbonPictureKind::Round,
                        RibbonStyle::Cross => RibbonPictureKind::Cross,
                    },
                    bow: true,
                    front_mm,
                    band_mm: self.made.band.as_ref().map(|band| band.strip_width().mm()),
                    on_front: &self.tag(),
                    length: self.made.ribbon.as_ref()?.length(),
                },
                self.size,
            ),
            _ => return None,
        })
    }

    fn notch(&self) -> Option<Length> {
        self.facts.spec.band.as_ref()?.notch
    }

    /// The tag's layers, the uppermost first.
    fn layers(&self) -> Vec<TagShape> {
        let Some(tag) = &self.facts.spec.tag else {
            return Vec::new();
        };
        let mat = tag.mat.as_ref().map(|mat| tag.shape.grown(mat.reveal * 2));
        std::iter::once(tag.shape).chain(mat).collect()
    }

    /// The tag's layers as they lie, the lowest first.
    fn tag(&self) -> Vec<PictureLayer<'static>> {
        let layers = self.layers();
        let named = layers.into_iter().zip(["tag", "tag mat"]);
        let mut drawn: Vec<_> = named
            .map(|(shape, name)| PictureLayer {
                name,
                outline: outline(shape),
            })
            .collect();
        drawn.reverse();
        drawn
    }
}

fn strips(sheet: Length, width: Length) -> u32 {
    let strips = sheet.nm() / width.nm().max(1);
    u32::try_from(strips).unwrap_or(1).clamp(1, 24)
}

fn outline(shape: TagShape) -> BezPath {
    match shape {
        TagShape::Circle { diameter } => MatShape::Circle { diameter },
        TagShape::Rectangle { width, height } => MatShape::Rectangle { width, height },
    }
    .outline()
}
