//! WCAG 2.2 at level AA (<https://www.w3.org/TR/WCAG22/>): the rows that axe-core cannot judge,
//! each by its number. Each check is shown a page that breaks its row, so that it can fail.

mod content;
mod entry;
mod focus;
mod messages;
mod rows;
