//! Collects parts and operations of one piece while its recipe is written.

use super::operation::Operation;
use super::part::{Part, PartKind};

/// Parts and operations of one piece.
pub(super) struct Draft {
    /// The piece, by place in the project.
    piece: usize,
    /// Its row number: keys stay the same when pieces change places.
    id: i64,
    /// Its name, in front of its parts' names.
    name: String,
    pub(super) parts: Vec<Part>,
    pub(super) operations: Vec<Operation>,
}

impl Draft {
    pub(super) fn new(piece: usize, id: i64, name: &str) -> Self {
        Self {
            piece,
            id,
            name: name.to_owned(),
            parts: Vec::new(),
            operations: Vec::new(),
        }
    }

    /// `p3.band` for "band".
    pub(super) fn key(&self, name: &str) -> String {
        format!("p{}.{name}", self.id)
    }

    /// Adds a part of which each kit has `per_kit`.
    pub(super) fn part(&mut self, name: &str, label: &str, kind: PartKind, per_kit: u32) {
        self.parts.push(Part {
            key: self.key(name),
            piece: self.piece,
            name: self.named(label),
            kind,
            per_kit,
        });
    }

    /// "Seed box: band"; a tin that is called as its piece is named once.
    fn named(&self, label: &str) -> String {
        if label.to_lowercase() == self.name.to_lowercase() {
            self.name.clone()
        } else {
            format!("{}: {label}", self.name)
        }
    }

    /// Gives the last operation a name that what comes after the structure waits for.
    pub(super) fn name_last(&mut self, name: &str) {
        let key = self.key(name);
        if let Some(last) = self.operations.last_mut() {
            last.key = key;
        }
    }

    /// The names of the steps that nothing waits for yet, but for those on `part`.
    pub(super) fn ends(&self, part: &str) -> Vec<String> {
        let (part, front) = (self.key(part), self.key(""));
        let waited = |key: &String| self.operations.iter().any(|it| it.after.contains(key));
        let free = self.operations.iter().filter(|it| !waited(&it.key));
        free.filter(|it| it.part.as_ref() != Some(&part))
            .filter_map(|it| it.key.strip_prefix(&front).map(str::to_owned))
            .collect()
    }

    /// Adds an operation on `part` that waits for `after` (those that this piece has).
    pub(super) fn step(&mut self, part: &str, after: &[&str], mut operation: Operation) {
        operation.piece = Some(self.piece);
        let part = self.key(part);
        operation.part = self.parts.iter().any(|p| p.key == part).then_some(part);
        operation.key = self.key(&operation.key);
        operation.after = after
            .iter()
            .map(|name| self.key(name))
            .filter(|key| self.operations.iter().any(|other| other.key == *key))
            .collect();
        self.operations.push(operation);
    }
}
