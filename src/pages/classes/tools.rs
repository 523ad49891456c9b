//! Tools on the day, in one form. Only what differs from the bench is stored, so that the rest
//! follows the bench.

use askama::Template;
use axum::extract::State;
use axum::response::{IntoResponse, Response};
use sqlx::SqliteConnection;

use super::typed::{Texts, Typed};
use crate::app::App;
use crate::error::{PageError, PageResult};
use crate::forms::FormErrors;
use crate::pages::extract::{Path, ProtectedForm, SignedIn};
use crate::pages::{Nav, Page, see_other};
use crate::recipe::{Recipe, ToolKind};
use crate::store::class_facts::{on_bench, tools_on_day};
use crate::store::class_lists::{self, list_class_tools};
use crate::store::class_project::class_project;
use crate::store::classes::{Class, ClassList, find_class, update_list_version};
use crate::store::project_facts::Bench;
use crate::urls;
use crate::workshop::{BroughtBy, ToolOnDay};

#[derive(Template)]
#[template(path = "classes/tools.html")]
struct ToolsPage {
    nav: Nav,
    class: Class,
    version: i64,
    rows: Vec<Row>,
    who: Vec<(&'static str, &'static str)>,
    errors: FormErrors,
}

/// One kind of tool as the form shows and sends it.
struct Row {
    slug: &'static str,
    name: &'static str,
    count: String,
    brought_by: String,
    /// "2 class steps use it", or "no class step uses it".
    hint: String,
}

/// A class with its tools, of one moment.
struct Stored {
    class: Class,
    tools: Vec<ToolOnDay>,
    bench: Vec<ToolOnDay>,
    /// Class steps that use each kind; empty while the project can't be made.
    steps: Vec<ToolKind>,
}

pub(super) async fn edit_tools(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
) -> PageResult<Page<impl Template>> {
    let mut read = app.store().read().begin().await?;
    let stored = stored(&mut read, id).await?;
    let rows = stored.rows();
    let version = stored.class.versions.tools;
    Ok(Page::ok(stored.page(version, rows, FormErrors::default())))
}

pub(super) async fn update_tools(
    State(app): State<App>,
    _: SignedIn,
    Path(id): Path<i64>,
    ProtectedForm(typed): ProtectedForm<Typed>,
) -> PageResult<Response> {
    let mut change = app.store().change().await?;
    let stored = stored(&mut change, id).await?;
    let rows = stored.typed_rows(&typed);
    let mut errors = FormErrors::default();
    let Some(tools) = read(&rows, &mut errors) else {
        let page = stored.page(typed.version(), rows, errors);
        return Ok(Page::invalid(page).into_response());
    };
    let list = ClassList::Tools;
    if !update_list_version(&mut *change, id, list, typed.version()).await? {
        let newer = stored.class.versions.tools;
        let texts = (texts(&rows), texts(&stored.rows()));
        let address = urls::class_tools(id);
        return Err(typed.stale("list of tools", &address, newer, texts));
    }
    let differ = |tool: &ToolOnDay| !stored.bench.contains(tool);
    let tools: Vec<ToolOnDay> = tools.into_iter().filter(differ).collect();
    class_lists::update_class_tools(&mut change, id, &tools).await?;
    change.commit().await?;
    Ok(see_other(&urls::class_saved(id)))
}

async fn stored(db: &mut SqliteConnection, id: i64) -> PageResult<Stored> {
    let class = find_class(&mut *db, id).await?;
    let class = class.ok_or(PageError::NotFound)?;
    let project = class_project(&mut *db, &class.details).await?;
    let project = project.ok_or(PageError::NotFound)?.facts;
    let bench = Bench::read(&mut *db).await?;
    let typed = list_class_tools(&mut *db, id).await?;
    let steps = Recipe::build(&project).map_or_else(|_| Vec::new(), |recipe| recipe.steps);
    let in_class = steps.iter().filter(|step| step.is_class());
    let of_kind = |kind| on_bench(&bench.tools, kind);
    Ok(Stored {
        class,
        tools: tools_on_day(&bench.tools, &typed),
        bench: ToolKind::ALL.into_iter().map(of_kind).collect(),
        steps: in_class.filter_map(|step| step.operation.tool).collect(),
    })
}

impl Stored {
    fn page(self, version: i64, rows: Vec<Row>, errors: FormErrors) -> ToolsPage {
        ToolsPage {
            nav: Nav::Classes,
            class: self.class,
            version,
            rows,
            who: BroughtBy::ALL.map(|who| (who.slug(), who.label())).to_vec(),
            errors,
        }
    }

    fn rows(&self) -> Vec<Row> {
        let row = |tool: &ToolOnDay| {
            self.row(
                tool.kind,
                tool.count.to_string(),
                tool.brought_by.slug().to_owned(),
            )
        };
        self.sorted(self.tools.iter().map(row).collect())
    }

    fn typed_rows(&self, typed: &Typed) -> Vec<Row> {
        let row = |kind: ToolKind| {
            let of = |name: &str| typed.get(&format!("{name}-{}", kind.slug())).to_owned();
            self.row(kind, of("count"), of("who"))
        };
        self.sorted(ToolKind::ALL.into_iter().map(row).collect())
    }

    /// What the class uses comes first.
    fn sorted(&self, mut rows: Vec<Row>) -> Vec<Row> {
        let used = |row: &Row| self.steps.iter().any(|kind| kind.slug() == row.slug);
        rows.sort_by_key(|row| !used(row));
        rows
    }

    fn row(&self, kind: ToolKind, count: String, brought_by: String) -> Row {
        let steps = self.steps.iter().filter(|&&used| used == kind).count();
        Row {
            slug: kind.slug(),
            name: kind.name(),
            count,
            brought_by,
            hint: match steps {
                0 => "No class step uses it.".to_owned(),
                1 => "1 class step uses it.".to_owned(),
                many => format!("{many} class steps use it."),
            },
        }
    }
}

fn read(rows: &[Row], errors: &mut FormErrors) -> Option<Vec<ToolOnDay>> {
    let offered = BroughtBy::ALL.map(|who| (who.slug(), who));
    let mut tool = |row: &Row| {
        let label = format!("Number of {}", row.name);
        let count = errors.count(format!("count-{}", row.slug), &label, &row.count, 0..=1000);
        let label = format!("Who brings the {}", row.name);
        let who = errors.choice(
            format!("who-{}", row.slug),
            &label,
            &row.brought_by,
            &offered,
        );
        Some(ToolOnDay {
            kind: ToolKind::from_slug(row.slug)?,
            count: count?,
            brought_by: who?,
        })
    };
    // Every row first, so that all errors show at once.
    let tools: Vec<Option<ToolOnDay>> = rows.iter().map(&mut tool).collect();
    tools.into_iter().collect()
}

fn texts(rows: &[Row]) -> Texts {
    let who = |slug: &str| BroughtBy::from_slug(slug).map_or("nobody", BroughtBy::label);
    rows.iter()
        .map(|row| {
            let text = format!("{}, {}", row.count, who(&row.brought_by));
            (row.name.to_owned(), text)
        })
        .collect()
}
