//! The only writer of SVG: a [`Scene`] in, text out, the same on every machine.
//!
//! Colours are presentation attributes under class names (`pic-…`), never inline styles, so a
//! strict content policy holds and a page may restyle them. Text is escaped.

use std::fmt::{self, Write as _};

use kurbo::{BezPath, PathEl, Point, Rect};

use super::number::{hundredths, number, push_number};
use super::scene::{Anchor, Scene, SceneItem, ScenePath, SceneText, TextSize, fraction};
use super::strokes::{Fill, INK, NOW, PAPER, QUIET, style};

/// SVG text made by the writer: safe to put into a page as it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Svg(String);

impl Svg {
    /// Writes a scene. Every id inside starts with `prefix`, which must be its own for each
    /// picture on a page; characters that an id cannot hold become `-`.
    #[must_use]
    pub fn write(scene: &Scene, prefix: &str) -> Self {
        let mut writer = Writer {
            out: String::new(),
            prefix: safe_id(prefix),
            u: scene.u,
        };
        writer.picture(scene);
        Self(writer.out)
    }

    /// A small picture without words or ids that stands beside words, as in a legend. The style
    /// sheet gives its size: a page holds very many.
    pub(crate) fn sample(view: Rect, paths: &[ScenePath], u: f64) -> Self {
        let mut writer = Writer {
            out: String::new(),
            prefix: String::new(),
            u,
        };
        let _ = write!(
            writer.out,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"pic-sample\" fill=\"none\" viewBox=\"{}\" \
             aria-hidden=\"true\">",
            view_box(view),
        );
        for path in paths {
            writer.path(path);
        }
        writer.out.push_str("</svg>");
        Self(writer.out)
    }

    /// The text itself.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Svg {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

struct Writer {
    out: String,
    prefix: String,
    u: f64,
}

impl Writer {
    fn picture(&mut self, scene: &Scene) {
        let prefix = self.prefix.clone();
        let _ = write!(
            self.out,
            "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"pic\" viewBox=\"{}\" role=\"img\" \
             aria-labelledby=\"{prefix}-t {prefix}-d\" font-family=\"system-ui,sans-serif\" paint-order=\"stroke\" fill=\"none\">\
             <title id=\"{prefix}-t\">{}</title><desc id=\"{prefix}-d\">{}</desc>",
            view_box(scene.view),
            escape(&scene.title),
            escape(&scene.description),
        );
        self.fills(scene);
        for item in &scene.items {
            match item {
                SceneItem::Path(path) => self.path(path),
                SceneItem::Text(text) => self.text(text),
            }
        }
        self.out.push_str("</svg>");
    }

    /// The hatch and the cross, only where something uses them.
    fn fills(&mut self, scene: &Scene) {
        let uses = |fill: Fill| {
            scene.items.iter().any(|item| match item {
                SceneItem::Path(path) => style(path.role, path.now).fill == fill,
                SceneItem::Text(_) => false,
            })
        };
        let (hatch, cross) = (uses(Fill::Hatch), uses(Fill::Cross));
        if !hatch && !cross {
            return;
        }
        self.out.push_str("<defs>");
        if hatch {
            self.pattern("hatch", "pic-hatch", INK, 1.7, 0.3, "M0,0V1");
        }
        if cross {
            self.pattern("cross", "pic-cross", QUIET, 2.4, 0.22, "M0,0V1M0,0H1");
        }
        self.out.push_str("</defs>");
    }

    /// A tile one by one unit wide, scaled to `tile` u and turned by 45°.
    fn pattern(&mut self, id: &str, class: &str, ink: &str, tile: f64, width: f64, d: &str) {
        let _ = write!(
            self.out,
            "<pattern id=\"{}-{id}\" width=\"1\" height=\"1\" patternUnits=\"userSpaceOnUse\" \
             patternTransform=\"rotate(45) scale({})\"><path class=\"{class}\" d=\"{d}\" \
             stroke=\"{ink}\" stroke-width=\"{}\"/></pattern>",
            self.prefix,
            number(tile * self.u),
            number(2.0 * width / tile),
        );
    }

    fn path(&mut self, path: &ScenePath) {
        let style = style(path.role, path.now);
        let _ = write!(
            self.out,
            "<path class=\"{}\" d=\"{}\"",
            style.class,
            path_data(&path.d)
        );
        match style.fill {
            // As the whole picture has it.
            Fill::None => {}
            Fill::Flat(colour) => {
                let _ = write!(self.out, " fill=\"{colour}\"");
            }
            Fill::Hatch | Fill::Cross if self.prefix.is_empty() => {
                self.out.push_str(" fill=\"none\"");
            }
            Fill::Hatch => {
                let _ = write!(self.out, " fill=\"url(#{}-hatch)\"", self.prefix);
            }
            Fill::Cross => {
                let _ = write!(self.out, " fill=\"url(#{}-cross)\"", self.prefix);
            }
        }
        if let Some(stroke) = style.stroke {
            let width = number(style.width * self.u);
            let _ = write!(self.out, " stroke=\"{stroke}\" stroke-width=\"{width}\"");
        }
        if let Some((on, off)) = style.dash {
            let (on, off) = (number(on * self.u), number(off * self.u));
            let _ = write!(self.out, " stroke-dasharray=\"{on} {off}\"");
        }
        if style.round {
            self.out
                .push_str(" stroke-linecap=\"round\" stroke-linejoin=\"round\"");
        }
        self.out.push_str("/>");
    }

    /// A text with a halo in the paper's tint, so that a line behind it does not strike it out.
    fn text(&mut self, text: &SceneText) {
        let size = text.size.in_u() * self.u;
        let (class, colour) = match text.now {
            true => ("pic-text pic-text-now", NOW),
            false => ("pic-text", INK),
        };
        let anchor = match text.anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let bold = if text.now || text.size == TextSize::Large {
            " font-weight=\"700\""
        } else {
            ""
        };
        let _ = write!(
            self.out,
            "<text class=\"{class}\" x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"{colour}\" \
             stroke=\"{PAPER}\" stroke-width=\"{}\"{anchor}{bold}>{}</text>",
            number(text.at.x),
            number(text.at.y + 0.35 * size),
            number(size),
            number(0.22 * size),
            with_true_fractions(&text.text),
        );
    }
}

/// The window as a `viewBox`.
fn view_box(view: Rect) -> String {
    let parts = [view.x0, view.y0, view.width(), view.height()].map(number);
    parts.join(" ")
}

/// A path as SVG path data, absolute, with the short forms for level and upright lines.
pub(crate) fn path_data(path: &BezPath) -> String {
    let mut out = String::new();
    // Where the pen is, as it is written; nowhere at first.
    let mut at: Option<(i64, i64)> = None;
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => push_points(&mut out, 'M', &[p]),
            PathEl::LineTo(p) if at.is_some_and(|(x, _)| x == hundredths(p.x)) => {
                out.push('V');
                push_number(&mut out, p.y);
            }
            PathEl::LineTo(p) if at.is_some_and(|(_, y)| y == hundredths(p.y)) => {
                out.push('H');
                push_number(&mut out, p.x);
            }
            PathEl::LineTo(p) => push_points(&mut out, 'L', &[p]),
            PathEl::QuadTo(a, p) => push_points(&mut out, 'Q', &[a, p]),
            PathEl::CurveTo(a, b, p) => push_points(&mut out, 'C', &[a, b, p]),
            PathEl::ClosePath => out.push('Z'),
        }
        at = element
            .end_point()
            .map(|p| (hundredths(p.x), hundredths(p.y)));
    }
    out
}

fn push_points(out: &mut String, command: char, points: &[Point]) {
    out.push(command);
    for (index, point) in points.iter().enumerate() {
        if index > 0 {
            out.push(' ');
        }
        push_number(out, point.x);
        out.push(',');
        push_number(out, point.y);
    }
}

/// Escapes a text for element content and attribute values; control characters, which XML
/// cannot hold, are dropped.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\t' => out.push(' '),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
    out
}

/// Sets `7/8` as a small 7 over a small 8; all else is escaped as it is.
fn with_true_fractions(text: &str) -> String {
    let mut out = String::new();
    for (index, word) in text.split(' ').enumerate() {
        if index > 0 {
            out.push(' ');
        }
        match fraction(word) {
            Some((over, under)) => {
                let _ = write!(
                    out,
                    "<tspan dy=\"-.5em\" font-size=\".64em\">{over}</tspan>\
                     <tspan dy=\".32em\">\u{2044}</tspan>\
                     <tspan font-size=\".64em\">{under}</tspan>",
                );
            }
            None => out.push_str(&escape(word)),
        }
    }
    out
}

/// A prefix that is a valid id whatever was asked for.
fn safe_id(prefix: &str) -> String {
    let body: String = prefix
        .chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() || c == '_' {
                c
            } else {
                '-'
            }
        })
        .collect();
    if body.starts_with(|c: char| c.is_ascii_alphabetic()) {
        body
    } else {
        format!("p{body}")
    }
}

#[cfg(test)]
mod tests {
    use kurbo::Shape;

    use super::super::scene::LineRole;
    use super::*;

    fn strip() -> Scene {
        let path = |role, now, rect: Rect| {
            SceneItem::Path(ScenePath {
                role,
                now,
                d: rect.to_path(0.1),
            })
        };
        Scene {
            view: Rect::new(0.0, 0.0, 100.0, 40.0),
            u: 1.0,
            title: "Strip & \"glue\"".to_owned(),
            description: "A <strip>.".to_owned(),
            items: vec![
                path(LineRole::Back, false, Rect::new(10.0, 10.0, 90.0, 30.0)),
                path(LineRole::Glue, true, Rect::new(70.0, 10.0, 90.0, 30.0)),
                SceneItem::Text(SceneText {
                    at: Point::new(40.0, 20.0),
                    anchor: Anchor::Middle,
                    size: TextSize::Small,
                    now: false,
                    text: "5 1/4 in <b>".to_owned(),
                }),
            ],
        }
    }

    #[test]
    fn a_small_picture_is_this_text() {
        insta::assert_snapshot!(Svg::write(&strip(), "s1").as_str().replace('>', ">\n"), @r##"
        <svg xmlns="http://www.w3.org/2000/svg" class="pic" viewBox="0 0 100 40" role="img" aria-labelledby="s1-t s1-d" font-family="system-ui,sans-serif" paint-order="stroke" fill="none">
        <title id="s1-t">
        Strip &amp; &quot;glue&quot;</title>
        <desc id="s1-d">
        A &lt;strip&gt;.</desc>
        <defs>
        <pattern id="s1-hatch" width="1" height="1" patternUnits="userSpaceOnUse" patternTransform="rotate(45) scale(1.7)">
        <path class="pic-hatch" d="M0,0V1" stroke="#1f2a2e" stroke-width="0.35"/>
        </pattern>
        </defs>
        <path class="pic-back" d="M10,10H90V30H10Z" fill="#f9f2e2"/>
        <path class="pic-glue pic-now" d="M70,10H90V30H70Z" fill="url(#s1-hatch)" stroke="#a8320f" stroke-width="0.7"/>
        <text class="pic-text" x="40" y="21.26" font-size="3.6" fill="#1f2a2e" stroke="#fffdf7" stroke-width="0.79" text-anchor="middle">
        5 <tspan dy="-.5em" font-size=".64em">
        1</tspan>
        <tspan dy=".32em">
        ⁄</tspan>
        <tspan font-size=".64em">
        4</tspan>
         in &lt;b&gt;</text>
        </svg>
        "##);
    }

    #[test]
    fn every_id_starts_with_the_prefix_of_its_picture() {
        for prefix in ["step-3", "3 <x>", "", "é"] {
            let svg = Svg::write(&strip(), prefix);
            let own = safe_id(prefix);
            let ids: Vec<&str> = svg
                .as_str()
                .split(" id=\"")
                .skip(1)
                .filter_map(|rest| rest.split('"').next())
                .collect();
            assert_eq!(ids.len(), 3, "{ids:?}");
            assert!(
                ids.iter().all(|id| id.starts_with(&format!("{own}-"))),
                "{prefix}: {ids:?}"
            );
            assert!(svg.as_str().contains(&format!("url(#{own}-hatch)")));
        }
    }

    #[test]
    fn no_markup_comes_through_from_words() {
        let svg = Svg::write(&strip(), "a");
        assert!(!svg.as_str().contains("<b>") && !svg.as_str().contains("<strip>"));
        assert!(!svg.as_str().contains("style="));
    }

    #[test]
    fn control_characters_never_reach_the_text() {
        assert_eq!(escape("a\u{0}b\u{8}\nc"), "ab c");
    }
}
