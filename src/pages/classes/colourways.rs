//! All colourways of a class in one form: name, spares, and a paper for each role.

use std::collections::{BTreeMap, HashSet};

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};

use super::typed::Typed;
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::{FormErrors, quoted_part};
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::{Nav, Page, see_other};
use crate::recipe::Role;
use crate::store::bench::list_papers;
use crate::store::class_lists::{
    self, ColourwayChange, StoredColourway, list_attendees, list_colourways,
};
use crate::store::classes::{Class, ClassList, find_class, update_list_version};
use crate::store::project_facts::project_facts;
use crate::urls;
use crate::workshop::{MOST_KITS, designed_for};

/// Key of the row for one that is added.
const NEW: &str = "new";

#[derive(Template)]
#[template(path = "classes/colourways.html")]
struct ColourwaysPage {
    nav: Nav,
    class: Class,
    version: i64,
    roles: Vec<Role>,
    rows: Vec<Row>,
    papers: Vec<(String, String)>,
    errors: FormErrors,
}

/// One colourway as the form shows and sends it.
struct Row {
    key: String,
    name: String,
    spares: String,
    /// A paper's row number for each role.
    papers: Vec<String>,
    remove: bool,
    /// How many attendees have chosen it.
    chosen: usize,
}

/// The paper of one role in one row.
struct Choice {
    field: String,
    role: Role,
    paper: String,
}

/// A class with everything the form offers, of one moment.
struct Stored {
    class: Class,
    colourways: Vec<StoredColourway>,
    /// Colourway of each attendee.
    chosen: Vec<i64>,
    roles: Vec<Role>,
    papers: Vec<(String, String)>,
}

pub(super) async fn edit_colourways(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let mut read = app.store().read().begin().await?;
    let stored = stored(&mut read, id).await?;
    let mut rows = stored.rows();
    rows.push(Row::empty(stored.roles.len()));
    let version = stored.class.versions.colourways;
    Ok(Page::ok(stored.page(version, rows, FormErrors::default())))
}

pub(super) async fn update_colourways(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(typed): ProtectedForm<Typed>,
) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    let stored = stored(&mut change, id).await?;
    let rows = stored.typed_rows(&typed);
    let mut errors = FormErrors::default();
    let Some((colourways, removed)) = stored.read(&rows, &mut errors) else {
        let page = stored.page(typed.version(), rows, errors);
        return Ok(Page::invalid(page).into_response());
    };
    let list = ClassList::Colourways;
    if !update_list_version(&mut *change, id, list, typed.version()).await? {
        let newer = stored.class.versions.colourways;
        let texts = (stored.texts(&rows), stored.texts(&stored.rows()));
        let address = urls::class_colourways(id);
        return Err(typed.stale("list of colourways", &address, newer, texts));
    }
    class_lists::update_colourways(&mut change, id, &colourways, &removed).await?;
    change.commit().await?;
    Ok(see_other(&urls::class_saved(id)))
}

async fn stored(db: &mut sqlx::SqliteConnection, id: i64) -> PageResult<Stored> {
    let class = find_class(&mut *db, id).await?;
    let class = class.ok_or(PageError::NotFound)?;
    let project = project_facts(&mut *db, class.details.project_id).await?;
    let project = project.ok_or(PageError::NotFound)?;
    let papers = list_papers(&mut *db).await?;
    let attendees = list_attendees(&mut *db, id).await?;
    Ok(Stored {
        class,
        colourways: list_colourways(&mut *db, id).await?,
        chosen: attendees.into_iter().map(|a| a.colourway_id).collect(),
        roles: designed_for(&project)
            .into_iter()
            .map(|(role, _)| role)
            .collect(),
        papers: papers
            .into_iter()
            .map(|paper| (paper.id.to_string(), paper.it.paper.name))
            .collect(),
    })
}

impl Row {
    fn empty(roles: usize) -> Self {
        Self {
            key: NEW.to_owned(),
            name: String::new(),
            spares: String::new(),
            papers: vec![String::new(); roles],
            remove: false,
            chosen: 0,
        }
    }

    fn is_new(&self) -> bool {
        self.key == NEW
    }

    /// The row for another one, left as it was.
    fn is_untouched(&self) -> bool {
        let blank = |text: &String| text.trim().is_empty();
        self.is_new() && blank(&self.name) && blank(&self.spares) && self.papers.iter().all(blank)
    }

    /// The field of each role: its name, its role, and the paper chosen.
    fn choices(&self, roles: &[Role]) -> Vec<Choice> {
        let papers = roles.iter().zip(&self.papers).enumerate();
        papers
            .map(|(at, (role, paper))| Choice {
                field: self.field(at),
                role: role.clone(),
                paper: paper.clone(),
            })
            .collect()
    }

    fn removal(&self) -> String {
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
    fn page(self, version: i64, rows: Vec<Row>, errors: FormErrors) -> ColourwaysPage {
        ColourwaysPage {
            nav: Nav::Classes,
            version,
            roles: self.roles,
            rows,
            papers: self.papers,
            errors,
            class: self.class,
        }
    }

    fn rows(&self) -> Vec<Row> {
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
    fn typed_rows(&self, typed: &Typed) -> Vec<Row> {
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

    fn read(
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
                    "{}: {} attendees have chosen it. Choose another one for them under Attendees first.",
                    row.label("Removal"),
                    row.chosen
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
    fn texts(&self, rows: &[Row]) -> Vec<(String, String)> {
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
