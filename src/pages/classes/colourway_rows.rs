//! The rows of the colourway form: from the store, from what was typed, and read back.

use std::collections::{BTreeMap, HashSet};

use super::colourways::Stored;
use super::typed::{Texts, Typed};
use crate::forms::{FormErrors, quoted_part};
use crate::pages::paperwork::counted;
use crate::recipe::Role;
use crate::store::class_lists::{ColourwayChange, StoredColourway};
use crate::workshop::MOST_KITS;

/// What the keys of rows for new ones start with.
const NEW: &str = "new";
/// Blank rows while the class has the one colourway that it began with: most classes have a few.
const FIRST_BLANKS: usize = 3;

/// One colourway as the form shows and sends it.
pub(super) struct Row {
    pub(super) key: String,
    pub(super) name: String,
    pub(super) spares: String,
    /// A paper's row number for each role.
    pub(super) papers: Vec<String>,
    pub(super) remove: bool,
    /// How many attendees have chosen it.
    pub(super) chosen: usize,
}

/// The paper of one role in one row.
pub(super) struct Choice {
    pub(super) field: String,
    pub(super) role: Role,
    pub(super) paper: String,
}

impl Row {
    /// Rows for more, which stay out of it while they are blank.
    pub(super) fn blanks(colourways: usize, roles: usize) -> Vec<Self> {
        let count = if colourways > 1 { 1 } else { FIRST_BLANKS };
        (1..=count).map(|at| Self::empty(at, roles)).collect()
    }

    fn empty(at: usize, roles: usize) -> Self {
        Self {
            key: if at == 1 {
                NEW.to_owned()
            } else {
                format!("{NEW}{at}")
            },
            name: String::new(),
            spares: String::new(),
            papers: vec![String::new(); roles],
            remove: false,
            chosen: 0,
        }
    }

    pub(super) fn is_new(&self) -> bool {
        self.key.starts_with(NEW)
    }

    /// The row for another one, left as it was.
    fn is_untouched(&self) -> bool {
        let blank = |text: &String| text.trim().is_empty();
        self.is_new() && blank(&self.name) && blank(&self.spares) && self.papers.iter().all(blank)
    }

    /// The field of each role: its name, its role, and the paper chosen.
    pub(super) fn choices(&self, roles: &[Role]) -> Vec<Choice> {
        let papers = roles.iter().zip(&self.papers).enumerate();
        papers
            .map(|(at, (role, paper))| Choice {
                field: self.field(at),
                role: role.clone(),
                paper: paper.clone(),
            })
            .collect()
    }

    pub(super) fn removal(&self) -> String {
        format!("remove-{}", self.key)
    }

    fn field(&self, role: usize) -> String {
        format!("paper-{}-{role}", self.key)
    }

    /// What the row's errors are about.
    fn label(&self, field: &str) -> String {
        match self.name.trim() {
            "" => field.to_owned(),
            name => format!("{field} of \"{}\"", quoted_part(name)),
        }
    }
}

impl Stored {
    pub(super) fn rows(&self) -> Vec<Row> {
        let row = |colourway: &StoredColourway| {
            let paper = |role: &Role| colourway.papers.get(role).map(ToString::to_string);
            Row {
                key: colourway.id.to_string(),
                name: colourway.name.clone(),
                spares: colourway.spare_kits.to_string(),
                papers: self
                    .roles
                    .iter()
                    .map(|role| paper(role).unwrap_or_default())
                    .collect(),
                remove: false,
                chosen: self.chosen(colourway.id),
            }
        };
        self.colourways.iter().map(row).collect()
    }

    fn chosen(&self, id: i64) -> usize {
        self.chosen.iter().filter(|&&chosen| chosen == id).count()
    }

    /// The form names its roles, so that a project that changed meanwhile shifts no column.
    pub(super) fn typed_rows(&self, typed: &Typed) -> Vec<Row> {
        let column = |role: &Role| {
            let sent = typed.keys("role-");
            sent.into_iter()
                .find(|at| typed.get(&format!("role-{at}")) == role)
                .map(str::to_owned)
        };
        let columns: Vec<Option<String>> = self.roles.iter().map(column).collect();
        let row = |key: &str| {
            let paper = |column: &Option<String>| {
                let column = column.as_deref().unwrap_or("none");
                typed.get(&format!("paper-{key}-{column}")).to_owned()
            };
            Row {
                key: key.to_owned(),
                name: typed.get(&format!("name-{key}")).to_owned(),
                spares: typed.get(&format!("spares-{key}")).to_owned(),
                papers: columns.iter().map(paper).collect(),
                remove: typed.has(&format!("remove-{key}")),
                chosen: key.parse().map_or(0, |id| self.chosen(id)),
            }
        };
        typed.keys("name-").map(row).collect()
    }

    pub(super) fn read(
        &self,
        rows: &[Row],
        errors: &mut FormErrors,
    ) -> Option<(Vec<ColourwayChange>, Vec<i64>)> {
        let (gone, kept): (Vec<&Row>, Vec<&Row>) = rows
            .iter()
            .filter(|row| !row.is_untouched())
            .partition(|row| row.remove);
        let read: Vec<Option<ColourwayChange>> =
            kept.iter().map(|row| self.read_row(row, errors)).collect();
        for row in gone.iter().filter(|row| row.chosen > 0) {
            errors.add(
                row.removal(),
                format!(
                    "{}: {} chosen it. Give them another colourway under Attendees first.",
                    row.label("Removal"),
                    counted(row.chosen as u64, "attendee has", "attendees have")
                ),
            );
        }
        self.names_differ(rows, &kept, errors);
        let colourways = read.into_iter().collect::<Option<Vec<_>>>()?;
        let removed = gone.iter().filter_map(|row| row.key.parse().ok()).collect();
        errors.is_empty().then_some((colourways, removed))
    }

    fn read_row(&self, row: &Row, errors: &mut FormErrors) -> Option<ColourwayChange> {
        let field = |name: &str| format!("{name}-{}", row.key);
        let name = errors.text(field("name"), &row.label("Name"), &row.name, 80);
        let spares = match row.spares.trim() {
            "" => Some(0),
            spares => errors.count(
                field("spares"),
                &row.label("Spare kits"),
                spares,
                0..=MOST_KITS as u32,
            ),
        };
        let ids: Vec<(&str, i64)> = self
            .papers
            .iter()
            .filter_map(|(id, _)| Some((id.as_str(), id.parse().ok()?)))
            .collect();
        let mut papers = BTreeMap::new();
        for choice in row.choices(&self.roles) {
            let label = row.label(&format!("Paper for {}", choice.role));
            let paper = errors.choice(choice.field, &label, &choice.paper, &ids);
            papers.extend(paper.map(|paper| (choice.role, paper)));
        }
        Some(ColourwayChange {
            id: row.key.parse().ok(),
            name: name?,
            spare_kits: spares?,
            papers,
        })
    }

    /// Two of one name could not be told apart on a pack, those counted that the form lacks.
    fn names_differ(&self, rows: &[Row], kept: &[&Row], errors: &mut FormErrors) {
        let in_form: HashSet<&str> = rows.iter().map(|row| row.key.as_str()).collect();
        let others = self
            .colourways
            .iter()
            .filter(|c| !in_form.contains(c.id.to_string().as_str()));
        let mut taken: HashSet<String> = others.map(|c| c.name.clone()).collect();
        for row in kept {
            let name = row.name.trim();
            if !name.is_empty() && !taken.insert(name.to_owned()) {
                errors.add(
                    format!("name-{}", row.key),
                    format!(
                        "Name: \"{}\" is there twice. Type another name.",
                        quoted_part(name)
                    ),
                );
            }
        }
        if kept.is_empty() && others_left(self, rows) == 0 {
            let last = rows.first().map_or(NEW, |row| row.key.as_str());
            errors.add(
                format!("remove-{last}"),
                "Removal: a class needs at least 1 colourway. Keep one.",
            );
        }
    }

    /// Name of the row and what it says, to compare.
    pub(super) fn texts(&self, rows: &[Row]) -> Texts {
        let name = |id: &str| {
            let found = self.papers.iter().find(|(paper, _)| paper == id);
            found.map_or("no paper", |(_, name)| name.as_str())
        };
        let text = |row: &Row| {
            if row.remove {
                return "removed".to_owned();
            }
            let papers = self.roles.iter().zip(&row.papers);
            let papers = papers.map(|(role, paper)| format!("{role}: {}", name(paper)));
            let papers: Vec<String> = papers.collect();
            format!(
                "{}, {} spare kits, {}",
                row.name,
                row.spares,
                papers.join(", ")
            )
        };
        let shown = rows.iter().filter(|row| !row.is_untouched());
        shown
            .map(|row| (format!("Colourway {}", row.key), text(row)))
            .collect()
    }
}

fn others_left(stored: &Stored, rows: &[Row]) -> usize {
    let in_form = |id: i64| rows.iter().any(|row| row.key == id.to_string());
    let others = stored.colourways.iter();
    others.filter(|colourway| !in_form(colourway.id)).count()
}
