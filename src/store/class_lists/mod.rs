//! What belongs to one class: colourways with their papers, attendees, tools on the day, helpers.

mod attendees;
mod colourways;
mod helpers;
#[cfg(test)]
pub(in crate::store) mod sample;
mod tools;

pub use attendees::{
    StoredAttendee, delete_attendee, insert_attendee, list_attendees, update_attendee,
};
pub use colourways::{
    ColourwayChange, StoredColourway, insert_colourway, list_colourways, update_colourways,
};
pub use helpers::{list_helpers, update_helpers};
pub use tools::{list_class_tools, update_class_tools};
