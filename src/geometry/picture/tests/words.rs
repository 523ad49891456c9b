//! Legends, and left and right.

use super::*;

#[test]
fn a_legend_explains_only_what_is_drawn() {
    let pattern = pattern(PunchBox::KIND, 133.0, 0.3, 0.25).expect("a box");
    let ruler = Ruler::millimetre();
    let words = |now| -> Vec<&str> {
        let facts = FlatPicture {
            pattern: &pattern,
            ruler: &ruler,
            now,
            along: &[],
            is_cut: true,
            mirrored: false,
        };
        flat_picture(facts, PictureSize::FREE)
            .legend()
            .iter()
            .map(|entry| entry.words)
            .collect()
    };
    assert_eq!(
        words(FlatNow::Fold(0)),
        ["do this now", "cut", "score or crease", "this part moves"]
    );
    assert_eq!(
        words(FlatNow::Glue(0)),
        ["do this now", "cut", "score or crease", "glue"]
    );
}

#[test]
fn a_mirrored_step_says_left_where_the_picture_shows_left() {
    let pattern = pattern(PunchBox::KIND, 133.0, 0.3, 0.25).expect("a box");
    let ruler = Ruler::millimetre();
    let draw = |mirrored| {
        let now = FlatNow::Fold(0);
        flat_picture(
            FlatPicture {
                pattern: &pattern,
                ruler: &ruler,
                now,
                along: &[],
                is_cut: true,
                mirrored,
            },
            PictureSize::FREE,
        )
    };
    for scene in [draw(false), draw(true)] {
        let middle = scene.view.center().x;
        for (text, bounds) in scene.text_boxes().filter(|(text, _)| text.now) {
            let is_left = bounds.center().x < middle;
            assert_eq!(is_left, text.text.starts_with("left"), "{}", text.text);
        }
        assert_eq!(scene.text_boxes().filter(|(text, _)| text.now).count(), 2);
    }
}
