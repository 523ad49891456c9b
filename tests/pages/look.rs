//! The colours of the style sheet can be read.

use crate::visitor::Server;
use tablefold::urls;

/// The colours of one scheme, by name.
struct Scheme<'a>(&'a str);

impl Scheme<'_> {
    /// Relative luminance as WCAG 2.2 defines it.
    fn luminance(&self, name: &str) -> f64 {
        let (_, rest) = self.0.split_once(&format!("--{name}:#")).unwrap();
        let channel = |at: usize| {
            let value = f64::from(u8::from_str_radix(&rest[at..at + 2], 16).unwrap()) / 255.0;
            if value <= 0.04045 {
                value / 12.92
            } else {
                ((value + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * channel(0) + 0.7152 * channel(2) + 0.0722 * channel(4)
    }

    /// Contrast ratio as WCAG 2.2 defines it, 1 to 21.
    fn contrast(&self, one: &str, other: &str) -> f64 {
        let (one, other) = (self.luminance(one), self.luminance(other));
        (one.max(other) + 0.05) / (one.min(other) + 0.05)
    }
}

/// Source: WCAG 2.2, 1.4.3: white with 767676 is 4.54, with 777777 it is 4.48.
#[test]
fn the_contrast_formula_gives_the_published_values() {
    let scheme = Scheme("--white:#ffffff --good:#767676 --bad:#777777");
    assert!((scheme.contrast("white", "good") - 4.54).abs() < 0.005);
    assert!((scheme.contrast("white", "bad") - 4.48).abs() < 0.005);
}

/// WCAG 2.2: 4.5 for text (1.4.3); measures stand in ink and in "now" and get 7.
#[tokio::test]
async fn every_text_colour_stands_out_in_both_schemes() {
    let server = Server::empty().await;
    let css = server
        .anonymous()
        .get(&urls::static_file("style.css"))
        .await
        .text;
    let mut blocks = css
        .split(":root{")
        .skip(1)
        .map(|rest| rest.split_once('}').unwrap().0);
    let schemes = [
        ("light", blocks.next().unwrap()),
        ("dark", blocks.next().unwrap()),
    ];
    for (scheme, block) in schemes {
        let colours = Scheme(block);
        for (text, ground, least) in [
            ("ink", "paper", 7.0),
            ("ink", "sheet", 7.0),
            ("ink", "warn-paper", 7.0),
            ("now", "paper", 4.5),
            ("now", "sheet", 4.5),
            ("soft", "paper", 4.5),
            ("soft", "sheet", 4.5),
            ("warn", "paper", 4.5),
            ("warn", "sheet", 4.5),
            ("warn", "warn-paper", 4.5),
        ] {
            let contrast = colours.contrast(text, ground);
            assert!(
                contrast >= least,
                "{scheme}: {text} on {ground} is {contrast:.2}"
            );
        }
    }
}
