//! A picture as data: paths that say what they are, and texts that say where they stand.

use kurbo::{Affine, BezPath, Point, Rect, Shape, Size, Vec2};

/// What a path stands for. The writer turns it into colour, width and dashes, each role
/// distinguishable without colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LineRole {
    /// An area of paper seen from its front (the side that ends up outside).
    Front,
    /// An area of paper seen from its back (the side that ends up inside).
    Back,
    /// In a folded picture: the side of the paper that ends up outside.
    Outside,
    /// The same where the light does not reach.
    OutsideInShade,
    /// In a folded picture: the side of the paper that ends up inside.
    Inside,
    /// The same where the light does not reach.
    InsideInShade,
    /// A part that this step moves; in a folded picture, seen from its back.
    Moving,
    /// A part that this step moves, seen from its front.
    MovingFront,
    /// The edge of a piece of paper.
    Outline,
    /// Cut along it: solid.
    Cut,
    /// A score or crease: dashed.
    Crease,
    /// An area that takes glue or tape: hatched.
    Glue,
    /// Glue or tape on the other side of the paper that you see: hatched, dashed round.
    GlueBehind,
    /// An area that comes off: crossed.
    Waste,
    /// A helper line, such as the printed guide of a board: dotted.
    Guide,
    /// Marks of a ruler.
    Ruler,
    /// The body of a tool.
    Tool,
    /// The line of a measure and of a pointer to a label.
    Dimension,
    /// Where a pointer ends.
    Dot,
    /// Where the hands move something.
    Arrow,
    /// Ribbon or string.
    Ribbon,
    /// Something that goes inside.
    Contents,
    /// A side of it that the light does not reach.
    ContentsInShade,
    /// Words and numbers.
    Label,
}

/// How large a text is, in the `u` of its picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TextSize {
    /// The least: what a [`PictureSize`](super::PictureSize) asks for.
    Small,
    /// A fifth larger.
    Normal,
    /// Twice as large: the measure of the step.
    Large,
}

impl TextSize {
    /// The type size in `u`.
    #[must_use]
    pub const fn in_u(self) -> f64 {
        match self {
            Self::Small => 3.6,
            Self::Normal => 4.3,
            Self::Large => 7.6,
        }
    }
}

/// Which end of a text stands at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// The text starts there.
    Start,
    /// The text is centred there.
    Middle,
    /// The text ends there.
    End,
}

/// A path with a role.
#[derive(Clone, Debug, PartialEq)]
pub struct ScenePath {
    /// What it stands for.
    pub role: LineRole,
    /// Whether it is what you do in this step.
    pub now: bool,
    /// Where it runs, mm.
    pub d: BezPath,
}

/// A line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct SceneText {
    /// The point the anchor stands at, half-way up the line of text, mm.
    pub at: Point,
    /// Which end stands there.
    pub anchor: Anchor,
    /// How large.
    pub size: TextSize,
    /// Whether it belongs to what you do in this step.
    pub now: bool,
    /// The words; a fraction such as `2 7/8` is set as a true fraction.
    pub text: String,
}

/// One thing in a picture.
#[derive(Clone, Debug, PartialEq)]
pub enum SceneItem {
    /// A line or an area.
    Path(ScenePath),
    /// A text.
    Text(SceneText),
}

/// A picture: what is seen, through which window, and the same in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// The window on the plane, mm, y down.
    pub view: Rect,
    /// The measure of all type and of all lines, mm: [`TextSize::in_u`].
    pub u: f64,
    /// What the picture shows, in a few words.
    pub title: String,
    /// The text alternative: all that the picture says, in sentences.
    pub description: String,
    /// What is drawn, the first at the bottom.
    pub items: Vec<SceneItem>,
}

impl Scene {
    /// The same picture for the other hand: places are mirrored, words stay readable.
    ///
    /// Only pictures of work done by hand are mirrored. A board or a trimmer is the same tool
    /// for both hands, so their pictures are never passed through here.
    #[must_use]
    pub fn mirrored(mut self) -> Self {
        let across = self.view.x0 + self.view.x1;
        let flip = Affine::translate(Vec2::new(across, 0.0)) * Affine::FLIP_X;
        for item in &mut self.items {
            match item {
                SceneItem::Path(path) => path.d.apply_affine(flip),
                SceneItem::Text(text) => {
                    text.at.x = across - text.at.x;
                    text.anchor = match text.anchor {
                        Anchor::Start => Anchor::End,
                        Anchor::Middle => Anchor::Middle,
                        Anchor::End => Anchor::Start,
                    };
                }
            }
        }
        self
    }

    /// The texts of the picture with the boxes they are sure to stay in, mm.
    pub fn text_boxes(&self) -> impl Iterator<Item = (&SceneText, Rect)> {
        let u = self.u;
        self.items.iter().filter_map(move |item| match item {
            SceneItem::Text(text) => Some((text, text.bounds(u))),
            SceneItem::Path(_) => None,
        })
    }

    /// The smallest rectangle round all paths, mm; the view where there is none.
    #[must_use]
    pub fn path_bounds(&self) -> Rect {
        self.items
            .iter()
            .filter_map(|item| match item {
                SceneItem::Path(path) => Some(path.d.bounding_box()),
                SceneItem::Text(_) => None,
            })
            .reduce(|all, one| all.union(one))
            .unwrap_or(self.view)
    }
}

impl SceneText {
    /// The box the text is sure to stay in, mm, where `u` is that of its picture.
    #[must_use]
    pub fn bounds(&self, u: f64) -> Rect {
        box_at(self.at, self.anchor, self.extent(u))
    }

    /// The same a size smaller; `None` at the least size.
    pub(crate) fn smaller(&self) -> Option<Self> {
        let size = match self.size {
            TextSize::Large => TextSize::Normal,
            TextSize::Normal => TextSize::Small,
            TextSize::Small => return None,
        };
        Some(Self {
            size,
            ..self.clone()
        })
    }

    /// Width and height of that box.
    pub(crate) fn extent(&self, u: f64) -> Size {
        let size = self.size.in_u() * u;
        Size::new(width_in_em(&self.text, self.is_bold()) * size, 1.15 * size)
    }

    /// Whether it is set in bold.
    pub(crate) fn is_bold(&self) -> bool {
        self.now || self.size == TextSize::Large
    }
}

/// A box that stands at a point by its anchor, half-way up.
pub(crate) fn box_at(at: Point, anchor: Anchor, extent: Size) -> Rect {
    let left = match anchor {
        Anchor::Start => at.x,
        Anchor::Middle => at.x - extent.width / 2.0,
        Anchor::End => at.x - extent.width,
    };
    Rect::from_origin_size((left, at.y - extent.height / 2.0), extent)
}

/// Words for the other hand: "left" and "right" change places, as whole words.
///
/// Goes with [`Scene::mirrored`] for words that we make ourselves; what people typed stays.
#[must_use]
pub fn for_other_hand(words: &str) -> String {
    let swapped = words
        .split_inclusive(|c: char| !c.is_alphanumeric())
        .map(|word| {
            let bare = word.trim_end_matches(|c: char| !c.is_alphanumeric());
            let other = match bare {
                "left" => "right",
                "right" => "left",
                "Left" => "Right",
                "Right" => "Left",
                same => same,
            };
            format!("{other}{}", &word[bare.len()..])
        });
    swapped.collect()
}

/// An upper estimate of the width of a text in em: a little wider than the widest common
/// system font, because the reader's font is not known.
pub(crate) fn width_in_em(text: &str, bold: bool) -> f64 {
    let words = text.split(' ').map(|word| match fraction(word) {
        Some((over, under)) => FRACTION_SCALE * (over.len() + under.len()) as f64 * 0.65 + 0.42,
        None => word.chars().map(char_width).sum(),
    });
    let plain = words.sum::<f64>() + char_width(' ') * text.matches(' ').count() as f64;
    if bold { plain * 1.12 } else { plain }
}

/// How large the figures of a fraction are beside the others.
pub(crate) const FRACTION_SCALE: f64 = 0.64;

/// The two numbers of a word such as `7/8`.
pub(crate) fn fraction(word: &str) -> Option<(&str, &str)> {
    let figures = |n: &str| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit());
    word.split_once('/')
        .filter(|(over, under)| figures(over) && figures(under))
}

fn char_width(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' => 0.33,
        ' ' | 'f' | 't' | 'r' | 'I' | '(' | ')' | '/' | '-' | '[' | ']' => 0.42,
        'm' | 'w' | 'M' | 'W' | '@' | '%' => 1.0,
        '0'..='9' | 'a'..='z' => 0.65,
        'A'..='Z' => 0.8,
        _ if c.is_ascii() => 0.85,
        // Latin letters with an accent are as wide as those without; anything else may be square.
        '\u{a1}'..='\u{24f}' | '≈' | '–' => 0.85,
        _ => 1.3,
    }
}

/// Shortens a text to a width in em, ending it with "…": the whole text is beside the picture.
pub(crate) fn shorten(text: &str, bold: bool, most_em: f64) -> String {
    let fits = |text: &str| width_in_em(text, bold) <= most_em;
    if fits(text) {
        return text.to_owned();
    }
    // "bottom flap of the front" is still a bottom flap.
    for more in [" of ", " at "] {
        if let Some((thing, _)) = text.split_once(more).filter(|(thing, _)| fits(thing)) {
            return thing.to_owned();
        }
    }
    let mut short = String::new();
    for c in text.chars() {
        let longer = format!("{short}{c}");
        if !fits(&format!("{longer}…")) {
            break;
        }
        short = longer;
    }
    short.truncate(short.trim_end().len());
    short.push('…');
    short
}

#[cfg(test)]
mod tests {
    use super::*;

    fn small_scene() -> Scene {
        Scene {
            view: Rect::new(-10.0, 0.0, 90.0, 50.0),
            u: 1.0,
            title: "A strip".to_owned(),
            description: "A strip of paper.".to_owned(),
            items: vec![
                SceneItem::Path(ScenePath {
                    role: LineRole::Outline,
                    now: false,
                    d: Rect::new(0.0, 5.0, 20.0, 10.0).to_path(0.1),
                }),
                SceneItem::Text(SceneText {
                    at: Point::new(25.0, 7.5),
                    anchor: Anchor::Start,
                    size: TextSize::Small,
                    now: false,
                    text: "6 in".to_owned(),
                }),
            ],
        }
    }

    #[test]
    fn mirrored_twice_is_the_same_picture() {
        let twice = small_scene().mirrored().mirrored();
        assert_eq!(twice.text_boxes().count(), 1);
        assert_eq!(twice.path_bounds(), small_scene().path_bounds());
        assert_eq!(twice, small_scene());
    }

    #[test]
    fn a_mirrored_picture_mirrors_the_box_of_each_text() {
        let (plain, other) = (small_scene(), small_scene().mirrored());
        let across = plain.view.x0 + plain.view.x1;
        for ((text, a), (same, b)) in plain.text_boxes().zip(other.text_boxes()) {
            assert_eq!(text.text, same.text);
            assert!((across - a.x1 - b.x0).abs() < 1e-9 && (a.width() - b.width()).abs() < 1e-9);
        }
        assert_eq!(other.path_bounds(), Rect::new(60.0, 5.0, 80.0, 10.0));
    }

    #[test]
    fn left_and_right_change_places_in_words_for_the_other_hand() {
        let words = "Fold the left side wall, then the right. Leftover bits stay bright.";
        let other = "Fold the right side wall, then the left. Leftover bits stay bright.";
        assert_eq!(for_other_hand(words), other);
        assert_eq!(for_other_hand(other), words);
    }

    #[test]
    fn a_text_too_wide_is_cut_with_an_ellipsis_and_fits() {
        let short = shorten("A jar that holds the earliest broad beans", false, 10.0);
        assert!(
            width_in_em(&short, false) <= 10.0 && short.ends_with('…'),
            "{short}"
        );
        assert_eq!(shorten("flap of the front", false, 4.0), "flap");
        assert_eq!(shorten("Tin", true, 10.0), "Tin");
        assert_eq!(shorten("Tin", true, 0.1), "…");
    }
}
