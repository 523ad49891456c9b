//! What belongs to one class: colourways with their papers, attendees, tools on the day.

mod attendees;
mod colourways;
#[cfg(test)]
pub(in crate::store) mod sample;
mod tools;

pub use attendees::{
    StoredAttendee, delete_attendee, insert_attendee, list_attendees, update_attendee,
};
pub use colourways::{
    ColourwayChange, StoredColourway, insert_colourway, list_colourways, update_colourways,
};
pub use tools::{list_class_tools, update_class_tools};
