//! Where a folded card goes: the envelopes that can be bought, and what posts take it as.

use tablefold_geometry::{
    EnvelopeFit, FoldedCard, Length, Mailpiece, PostClass, Ruler, post_classes,
};

use super::fit_fields::fine;
use crate::pages::both::Both;
use crate::recipe::{MadePiece, PieceFacts, ProjectFacts, make, matching_envelope, mats_thickness};

/// A card's envelopes and post.
pub(super) struct PostView {
    pub(super) envelopes: Vec<EnvelopeRow>,
    /// One from the punch board instead, where the bench has it.
    pub(super) punched: Option<PunchedRow>,
    /// The closed envelope: long side, short side.
    pub(super) size: Both,
    pub(super) thickness: Both,
    /// What its paper weighs, where that is known, g.
    pub(super) grams: Option<String>,
    /// How the thickness comes about.
    pub(super) layers: String,
    pub(super) posts: Vec<PostRow>,
}

/// An envelope that can be bought, with the play of the card in it.
pub(super) struct EnvelopeRow {
    pub(super) name: &'static str,
    pub(super) size: Both,
    pub(super) play: Both,
}

/// An envelope from the punch board: its square, and where it is punched on the first side.
pub(super) struct PunchedRow {
    /// What it is called as a piece.
    pub(super) name: String,
    pub(super) sheet: Both,
    pub(super) punch: Both,
    pub(super) offer: Offer,
}

/// Whether the envelope can be added to the project.
pub(crate) enum Offer {
    /// Not while the card is other than it is stored.
    SaveFirst,
    /// By the form that goes there, with its token.
    Add(String, String),
    /// It is there already, under this address.
    There(String),
}

/// What a post takes it as, addressed along its long side and along its short one.
pub(super) struct PostRow {
    pub(super) post: &'static str,
    pub(super) long: &'static str,
    pub(super) long_says: String,
    pub(super) short: &'static str,
    pub(super) short_says: String,
    pub(super) dated: &'static str,
    pub(super) source: &'static str,
}

impl PostView {
    /// `None` of what is no card.
    pub(super) fn new(facts: &PieceFacts, made: &MadePiece, ruler: &Ruler) -> Option<Self> {
        let card = FoldedCard::of(&made.structure)?;
        let spec = &facts.spec;
        let contents = made.structure.block_of(&made.axes, &spec.contents)?;
        // What is stuck on: a tag of one layer or two.
        let tag = spec.tag.as_ref().map_or(0.0, |tag| {
            let layers = if tag.mat.is_some() { 2.0 } else { 1.0 };
            layers * facts.paper.caliper.mm()
        });
        let uneven = spec.ribbon.is_some() || !spec.extras.is_empty();
        let mats = mats_thickness(facts).mm();
        let along = card.mailpiece(contents.z + mats + tag, None, uneven);
        let across = Mailpiece {
            length_mm: along.height_mm,
            height_mm: along.length_mm,
            ..along
        };
        let rows = post_classes(&along).into_iter().zip(post_classes(&across));
        let fine = fine(ruler);
        let side = |mm: f64| Length::nearest_multiple(mm, Length::from_nm(1)).unwrap_or_default();
        Some(Self {
            envelopes: card
                .envelopes(contents.z + mats)
                .iter()
                .map(|it| envelope(it, ruler))
                .collect(),
            punched: None,
            size: Both::sides(ruler, side(along.length_mm), side(along.height_mm)),
            thickness: Both::mm(&fine, along.thickness_mm),
            grams: facts
                .paper
                .gsm
                .map(|gsm| format!("{:.0}", made.paper_grams(gsm))),
            layers: format!(
                "6 sheets of {} at the thickest place{}, and {} of contents",
                fine.text_or_exact(facts.paper.caliper),
                match made.mats.len() {
                    0 => String::new(),
                    1 => ", 1 mat as thick as a sheet".to_owned(),
                    mats => format!(", {mats} mats each as thick as a sheet"),
                },
                fine.text_mm(contents.z + tag)
            ),
            posts: rows.map(|(long, short)| row(long, &short)).collect(),
        })
    }

    /// With the envelope from the punch board, where the bench has one.
    pub(super) fn with_punched(
        mut self,
        project: &ProjectFacts,
        (facts, made): (&PieceFacts, &MadePiece),
    ) -> Self {
        self.punched = matching_envelope(facts, made).and_then(|envelope| {
            let made = make(project, &envelope).ok()?;
            let settings = made.structure.settings();
            let at = |key| Some(Both::of(project.board.ruler(), settings.get(key)?));
            Some(PunchedRow {
                sheet: at("sheet")?,
                punch: at("punch")?,
                name: envelope.name,
                offer: Offer::SaveFirst,
            })
        });
        self
    }

    /// The envelopes and posts in one line.
    pub(super) fn line(&self) -> String {
        let envelopes: Vec<&str> = self.envelopes.iter().map(|it| it.name).collect();
        let fits = match envelopes.as_slice() {
            [] => "No standard envelope fits it".to_owned(),
            some => format!("It also fits {}", some.join(", ")),
        };
        let posts: Vec<String> = self
            .posts
            .iter()
            .map(|it| format!("{}: {}", it.post, it.long))
            .collect();
        format!(
            "{fits}. {}. Limits change: check before you post.",
            posts.join("; ")
        )
    }
}

fn envelope(fit: &EnvelopeFit, ruler: &Ruler) -> EnvelopeRow {
    EnvelopeRow {
        name: fit.size.name,
        size: Both::sides(ruler, fit.size.width, fit.size.height),
        play: Both::sides(ruler, fit.play.0, fit.play.1),
    }
}

fn row(long: PostClass, short: &PostClass) -> PostRow {
    PostRow {
        post: long.post,
        long: long.class,
        long_says: long.says.join(" "),
        short: short.class,
        short_says: short.says.join(" "),
        dated: long.dated,
        source: long.source,
    }
}
