//! Where a part lies on a sheet.

use crate::Length;

/// One part on a sheet; x right, y down from the sheet's top left corner.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Placed {
    /// Index into the job's parts.
    pub demand: usize,
    /// Left edge.
    pub x: Length,
    /// Top edge.
    pub y: Length,
    /// As it lies.
    pub width: Length,
    /// As it lies.
    pub height: Length,
    /// Turned a quarter.
    pub turned: bool,
}
