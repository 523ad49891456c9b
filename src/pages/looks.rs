//! The switches of step cards, on phones and on paper: links, so that they work without a script.

use tablefold_geometry::Unit;

use crate::pages::published::View;

/// One switch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Look {
    /// What pressing it does.
    pub(super) label: &'static str,
    /// The address of the page as it looks then.
    pub(super) href: String,
}

/// What can be changed from here, for a class that measures in `own`; `address` is that of the
/// page in another view.
pub(super) fn looks(view: View, own: Unit, address: &dyn Fn(View) -> String) -> Vec<Look> {
    let is_inch = matches!(own, Unit::Inch | Unit::Foot);
    let units = if is_inch == view.other_units {
        "Inches first"
    } else {
        "Millimetres first"
    };
    let other_units = !view.other_units;
    let left_handed = !view.left_handed;
    let large = !view.large;
    let to = |label, view: View| Look {
        label,
        href: address(view),
    };
    vec![
        to(
            units,
            View {
                other_units,
                ..view
            },
        ),
        to(
            if large { "Large print" } else { "Normal print" },
            View { large, ..view },
        ),
        to(
            if left_handed {
                "For left-handers"
            } else {
                "For right-handers"
            },
            View {
                left_handed,
                ..view
            },
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_switch_says_what_comes_and_leaves_the_others() {
        let now = View {
            large: true,
            ..View::default()
        };
        let said: Vec<_> = looks(now, Unit::Inch, &|view| view.query())
            .into_iter()
            .map(|look| (look.label, look.href))
            .collect();
        let to = |query: &str| query.to_owned();
        assert_eq!(
            said,
            [
                (
                    "Millimetres first",
                    to("?units=other&hand=right&print=large")
                ),
                ("Normal print", to("?units=own&hand=right&print=normal")),
                ("For left-handers", to("?units=own&hand=left&print=large")),
            ]
        );
        let metric = View {
            other_units: true,
            ..View::default()
        };
        assert_eq!(
            looks(metric, Unit::Millimetre, &|view| view.query())[0].label,
            "Millimetres first"
        );
        assert_eq!(
            looks(View::default(), Unit::Millimetre, &|view| view.query())[0].label,
            "Inches first"
        );
    }
}
