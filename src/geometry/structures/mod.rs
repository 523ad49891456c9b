//! Structures: a few settings on the tools' rulers become flat patterns. One file each, and one
//! line in the registry.
//!
//! Constructors refuse what cannot be made, so that a structure that exists has a pattern.
//! What the pattern is worth is proved apart, by [`crate::fold_check`].

mod box_family;
mod box_pattern;
mod build;
mod carton_size;
mod drawer;
mod drawer_limits;
#[cfg(test)]
mod drawer_tests;
mod envelope_family;
mod envelope_pattern;
mod error;
mod floor;
mod folded_card;
mod folded_card_family;
mod folded_card_pattern;
#[cfg(test)]
mod folded_card_tests;
mod four_faced;
mod four_faced_family;
mod four_faced_pattern;
#[cfg(test)]
mod four_faced_tests;
mod gable_carton;
mod gable_carton_hole;
mod gable_carton_pattern;
mod gable_carton_roof;
mod gable_carton_solid;
#[cfg(test)]
mod gable_carton_tests;
#[cfg(test)]
mod gable_slot_tests;
mod hexagon;
mod hexagon_pattern;
#[cfg(test)]
mod hexagon_tests;
mod lid;
mod limits;
mod notched_square;
mod offers;
mod open_tray;
mod open_tray_limits;
#[cfg(test)]
mod other_shapes_tests;
mod pouch;
mod pouch_bend;
mod pouch_family;
mod pouch_pattern;
#[cfg(test)]
mod pouch_tests;
mod punch_box;
mod punch_envelope;
mod punch_sizing;
mod registry;
#[cfg(test)]
mod registry_tests;
mod scores;
mod segment;
mod settings;
mod sleeve;
mod structure;
mod tapered_flap;
#[cfg(test)]
mod test_support;
#[cfg(test)]
mod tests;
mod tools;
mod tray;
#[cfg(test)]
mod tray_tests;
mod tube;
mod tube_sizing;
mod tuck_carton;
mod tuck_carton_pattern;
#[cfg(test)]
mod tuck_carton_tests;
#[cfg(test)]
mod window_tests;
mod work;

pub use carton_size::CartonSize;
pub use drawer::Drawer;
pub use error::{BackRemedy, StructureError, StructureProblem};
pub use folded_card::{EnvelopeFit, FoldedCard};
pub use four_faced::{FourFaced, LooseContents};
pub use gable_carton::GableCarton;
pub use hexagon::Hexagon;
pub use pouch::Pouch;
pub use punch_box::{PunchBox, PunchBoxSettings};
pub use punch_envelope::{PunchEnvelope, PunchEnvelopeSettings};
pub use registry::{Serves, StructureKind};
pub use settings::{Opening, SetOn, SettingField, Settings};
pub use structure::{Body, Laden, Nest, Structure};
pub use tools::Tools;
pub use tray::Tray;
pub use tuck_carton::TuckCarton;
pub use work::{Edge, Work};

/// Room inside, in mm along each axis of the closed piece, caliper taken off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inside {
    /// Along x of the front.
    pub width: f64,
    /// Along y of the front.
    pub length: f64,
    /// From front to back.
    pub depth: f64,
}
