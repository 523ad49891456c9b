//! Packs: for each attendee exactly the parts of their own choice; spares the same way.

use crate::recipe::{Part, PartKind};

use super::facts::{ClassFacts, Colourway};
use super::problem::PacketProblem;

/// What one attendee (or a spare kit) gets.
#[derive(Clone, Debug, PartialEq)]
pub struct Pack {
    /// Number on the label, from 1.
    pub number: usize,
    /// Who it is for, or "Spare 1".
    pub label: String,
    /// Whether it is a spare.
    pub spare: bool,
    /// The colourway, by row number.
    pub colourway: i64,
    /// Its name.
    pub colourway_name: String,
    /// What goes in, in the order of the parts.
    pub items: Vec<PackItem>,
}

/// One line of a pack's check list.
#[derive(Clone, Debug, PartialEq)]
pub struct PackItem {
    /// Index of the part in the recipe.
    pub part: usize,
    /// What it is called.
    pub name: String,
    /// What it is made of: the paper's or the supply's name.
    pub from: String,
    /// The paper's row number, whichever its size, for paper.
    pub paper: Option<i64>,
    /// How many.
    pub count: u32,
}

/// A pack for each attendee in their order, then the spares of each colourway.
///
/// # Errors
/// An attendee without a colourway, or a colourway without a paper for a role.
pub(super) fn packs(class: &ClassFacts, parts: &[Part]) -> Result<Vec<Pack>, Vec<PacketProblem>> {
    let mut packs = Vec::with_capacity(class.kits());
    let mut problems = Vec::new();
    let mut add = |label: String, spare: bool, colourway: &Colourway| match items(parts, colourway)
    {
        Ok(items) => packs.push(Pack {
            number: packs.len() + 1,
            label,
            spare,
            colourway: colourway.id,
            colourway_name: colourway.name.clone(),
            items,
        }),
        Err(problem) if problems.contains(&problem) => {}
        Err(problem) => problems.push(problem),
    };
    let mut without = Vec::new();
    for attendee in &class.attendees {
        match class.colourway(attendee.colourway) {
            Some(colourway) => add(attendee.name.clone(), false, colourway),
            None => without.push(PacketProblem::NoColourway {
                attendee: attendee.name.clone(),
            }),
        }
    }
    let spares = class
        .colourways
        .iter()
        .flat_map(|colourway| (0..colourway.spare_kits).map(move |_| colourway));
    for (index, colourway) in spares.enumerate() {
        add(format!("Spare {}", index + 1), true, colourway);
    }
    problems.extend(without);
    if problems.is_empty() {
        Ok(packs)
    } else {
        Err(problems)
    }
}

fn items(parts: &[Part], colourway: &Colourway) -> Result<Vec<PackItem>, PacketProblem> {
    let item = |(part, facts): (usize, &Part)| {
        let (from, paper) = match &facts.kind {
            PartKind::Cut { role, .. } => {
                let stock = colourway
                    .papers
                    .get(role)
                    .ok_or_else(|| PacketProblem::NoPaper {
                        colourway: colourway.name.clone(),
                        role: role.clone(),
                    })?;
                (stock.kind_name().to_owned(), Some(stock.kind()))
            }
            PartKind::Ribbon { name, .. } | PartKind::Counted { name, .. } => (name.clone(), None),
            PartKind::Template => ("printed".to_owned(), None),
        };
        Ok(PackItem {
            part,
            name: facts.name.clone(),
            from,
            paper,
            count: facts.per_kit,
        })
    };
    parts.iter().enumerate().map(item).collect()
}
