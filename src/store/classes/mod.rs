//! Classes: day and place, and the list of them. What belongs to one class stands in
//! `class_lists`.

use jiff::civil::{Date, Time};
use sqlx::{FromRow, Sqlite, SqliteConnection, SqliteExecutor};

use super::StoreResult;
use super::saved::{damaged, from_json};
use crate::recipe::in_words;
use crate::workshop::PlanChoice;

/// What an instructor types about a class.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClassDetails {
    /// What it is called.
    pub title: String,
    /// What is made: row of the project.
    pub project_id: i64,
    /// What is made after it: rows of more projects, in order, none of them twice.
    pub also: Vec<i64>,
    /// The day.
    pub date: Date,
    /// When it begins, by the hall's clock.
    pub starts: Time,
    /// How long it lasts.
    pub minutes: u32,
    /// Where.
    pub place: String,
}

impl ClassDetails {
    /// Rows of all projects, in the order in which they are taught.
    pub fn projects(&self) -> impl Iterator<Item = i64> {
        std::iter::once(self.project_id).chain(self.also.iter().copied())
    }
}

/// A stored class.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Class {
    /// Row id.
    pub id: i64,
    /// What was typed.
    pub details: ClassDetails,
    /// Saves of each form.
    pub versions: Versions,
    /// Which plan its sheets are cut by.
    pub cut_plan: PlanChoice,
}

/// Counts the saves of each form of a class.
#[derive(Clone, Copy, Debug, PartialEq, Eq, FromRow)]
pub struct Versions {
    /// Title, day, place.
    #[sqlx(rename = "version")]
    pub details: i64,
    /// Colourways.
    #[sqlx(rename = "colourways_version")]
    pub colourways: i64,
    /// Attendees.
    #[sqlx(rename = "attendees_version")]
    pub attendees: i64,
    /// Tools on the day.
    #[sqlx(rename = "tools_version")]
    pub tools: i64,
    /// Helpers with the prep.
    #[sqlx(rename = "helpers_version")]
    pub helpers: i64,
}

/// One line of the list of classes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClassLine {
    /// Row id.
    pub id: i64,
    /// What it is called.
    pub title: String,
    /// The day.
    pub date: Date,
    /// When it begins.
    pub starts: Time,
    /// Where.
    pub place: String,
    /// The projects' titles, in words.
    pub project: String,
    /// How many come.
    pub attendees: u32,
    /// The newest published revision.
    pub revision: Option<u32>,
}

#[derive(FromRow)]
struct ClassRow {
    id: i64,
    title: String,
    project_id: i64,
    /// JSON.
    also: String,
    date: String,
    starts: String,
    minutes: u32,
    place: String,
    #[sqlx(flatten)]
    versions: Versions,
    cut_plan: String,
}

#[derive(FromRow)]
struct LineRow {
    id: i64,
    title: String,
    date: String,
    starts: String,
    place: String,
    project: String,
    /// JSON.
    also: String,
    attendees: u32,
    revision: Option<u32>,
}

/// Which form of a class is saved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClassList {
    /// Colourways.
    Colourways,
    /// Attendees.
    Attendees,
    /// Tools on the day.
    Tools,
    /// Helpers with the prep.
    Helpers,
}

/// All classes, the latest day first.
///
/// # Errors
/// When the database fails.
pub async fn list_classes(db: impl SqliteExecutor<'_>) -> StoreResult<Vec<ClassLine>> {
    let rows: Vec<LineRow> = sqlx::query_as(
        "SELECT class.id, class.title, class.date, class.starts, class.place,
                project.title AS project,
                (SELECT json_group_array(title) FROM (
                    SELECT more.title FROM class_project
                    JOIN project AS more ON more.id = class_project.project_id
                    WHERE class_project.class_id = class.id
                    ORDER BY class_project.position)) AS also,
                (SELECT COUNT(*) FROM attendee WHERE class_id = class.id) AS attendees,
                (SELECT MAX(number) FROM revision WHERE class_id = class.id) AS revision
         FROM class JOIN project ON project.id = class.project_id
         ORDER BY class.date DESC, class.starts DESC, class.id DESC",
    )
    .fetch_all(db)
    .await?;
    rows.into_iter().map(LineRow::read).collect()
}

/// One class.
///
/// # Errors
/// When the database fails.
pub async fn find_class(db: impl SqliteExecutor<'_>, id: i64) -> StoreResult<Option<Class>> {
    let row: Option<ClassRow> = sqlx::query_as(
        "SELECT id, title, project_id, date, starts, minutes, place,
                (SELECT json_group_array(project_id) FROM (
                    SELECT project_id FROM class_project
                    WHERE class_id = class.id ORDER BY position)) AS also,
                version, colourways_version, attendees_version, tools_version,
                helpers_version, cut_plan
         FROM class WHERE id = ?1",
    )
    .bind(id)
    .fetch_optional(db)
    .await?;
    row.map(ClassRow::read).transpose()
}

/// The projects that a class makes, with their titles, in order.
///
/// # Errors
/// When the database fails.
pub async fn list_class_projects(
    db: impl SqliteExecutor<'_>,
    class_id: i64,
) -> StoreResult<Vec<(i64, String)>> {
    sqlx::query_as(
        "SELECT project.id, project.title FROM (
            SELECT project_id, 0 AS position FROM class WHERE id = ?1
            UNION ALL
            SELECT project_id, position FROM class_project WHERE class_id = ?1) AS made
         JOIN project ON project.id = made.project_id ORDER BY made.position",
    )
    .bind(class_id)
    .fetch_all(db)
    .await
}

/// Stores a class and gives its id.
///
/// # Errors
/// When the database fails, or a project does not exist.
pub async fn insert_class(db: &mut SqliteConnection, class: &ClassDetails) -> StoreResult<i64> {
    let id = sqlx::query_scalar(
        "INSERT INTO class (title, project_id, date, starts, minutes, place)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6) RETURNING id",
    )
    .bind(&class.title)
    .bind(class.project_id)
    .bind(class.date.to_string())
    .bind(starts_text(class.starts))
    .bind(class.minutes)
    .bind(&class.place)
    .fetch_one(&mut *db)
    .await?;
    insert_also(db, id, &class.also).await?;
    Ok(id)
}

/// Saves a class if it still has `version`; false when another save came first.
///
/// # Errors
/// When the database fails, or a project does not exist.
pub async fn update_class(
    db: &mut SqliteConnection,
    id: i64,
    version: i64,
    class: &ClassDetails,
) -> StoreResult<bool> {
    let done = sqlx::query(
        "UPDATE class SET title = ?3, project_id = ?4, date = ?5, starts = ?6, minutes = ?7,
                place = ?8, version = version + 1
         WHERE id = ?1 AND version = ?2",
    )
    .bind(id)
    .bind(version)
    .bind(&class.title)
    .bind(class.project_id)
    .bind(class.date.to_string())
    .bind(starts_text(class.starts))
    .bind(class.minutes)
    .bind(&class.place)
    .execute(&mut *db)
    .await?;
    if done.rows_affected() != 1 {
        return Ok(false);
    }
    sqlx::query("DELETE FROM class_project WHERE class_id = ?1")
        .bind(id)
        .execute(&mut *db)
        .await?;
    insert_also(db, id, &class.also).await?;
    Ok(true)
}

/// The projects after the first, from position 1.
async fn insert_also(db: &mut SqliteConnection, class: i64, also: &[i64]) -> StoreResult<()> {
    for (position, project) in (1_i64..).zip(also) {
        sqlx::query(
            "INSERT INTO class_project (class_id, position, project_id) VALUES (?1, ?2, ?3)",
        )
        .bind(class)
        .bind(position)
        .bind(project)
        .execute(&mut *db)
        .await?;
    }
    Ok(())
}

/// Counts a save of one list if nothing else was saved to it since `version`.
///
/// # Errors
/// When the database fails.
pub async fn update_list_version(
    db: impl SqliteExecutor<'_>,
    id: i64,
    list: ClassList,
    version: i64,
) -> StoreResult<bool> {
    let sql = match list {
        ClassList::Colourways => {
            "UPDATE class SET colourways_version = colourways_version + 1
             WHERE id = ?1 AND colourways_version = ?2"
        }
        ClassList::Attendees => {
            "UPDATE class SET attendees_version = attendees_version + 1
             WHERE id = ?1 AND attendees_version = ?2"
        }
        ClassList::Tools => {
            "UPDATE class SET tools_version = tools_version + 1
             WHERE id = ?1 AND tools_version = ?2"
        }
        ClassList::Helpers => {
            "UPDATE class SET helpers_version = helpers_version + 1
             WHERE id = ?1 AND helpers_version = ?2"
        }
    };
    let done = sqlx::query::<Sqlite>(sql)
        .bind(id)
        .bind(version)
        .execute(db)
        .await?;
    Ok(done.rows_affected() == 1)
}

/// Chooses the plan that a class's sheets are cut by; false when the class is gone. Nothing that
/// was typed can be lost, so no version is asked for.
///
/// # Errors
/// When the database fails.
pub async fn update_cut_plan(
    db: impl SqliteExecutor<'_>,
    id: i64,
    choice: PlanChoice,
) -> StoreResult<bool> {
    let done = sqlx::query("UPDATE class SET cut_plan = ?2 WHERE id = ?1")
        .bind(id)
        .bind(choice.slug())
        .execute(db)
        .await?;
    Ok(done.rows_affected() == 1)
}

/// Removes a class with its lists, links and revisions; false when it was gone.
///
/// # Errors
/// When the database fails.
pub async fn delete_class(db: &mut SqliteConnection, id: i64) -> StoreResult<bool> {
    // Attendees first: they hold on to the colourways that go with the class.
    sqlx::query("DELETE FROM attendee WHERE class_id = ?1")
        .bind(id)
        .execute(&mut *db)
        .await?;
    let done = sqlx::query("DELETE FROM class WHERE id = ?1")
        .bind(id)
        .execute(db)
        .await?;
    Ok(done.rows_affected() == 1)
}

/// `18:30`: minutes are all that a class needs.
fn starts_text(starts: Time) -> String {
    starts.strftime("%H:%M").to_string()
}

fn civil<T: std::str::FromStr<Err = jiff::Error>>(text: &str) -> StoreResult<T> {
    text.parse()
        .map_err(|error| sqlx::Error::Decode(Box::new(error)))
}

impl ClassRow {
    fn read(self) -> StoreResult<Class> {
        Ok(Class {
            id: self.id,
            details: ClassDetails {
                title: self.title,
                project_id: self.project_id,
                also: from_json(&self.also)?,
                date: civil(&self.date)?,
                starts: civil(&self.starts)?,
                minutes: self.minutes,
                place: self.place,
            },
            versions: self.versions,
            cut_plan: PlanChoice::from_slug(&self.cut_plan)
                .ok_or_else(|| damaged("class.cut_plan", &self.cut_plan))?,
        })
    }
}

impl LineRow {
    fn read(self) -> StoreResult<ClassLine> {
        let mut projects = vec![self.project];
        projects.extend(from_json::<Vec<String>>(&self.also)?);
        Ok(ClassLine {
            id: self.id,
            title: self.title,
            date: civil(&self.date)?,
            starts: civil(&self.starts)?,
            place: self.place,
            project: in_words(&projects),
            attendees: self.attendees,
            revision: self.revision,
        })
    }
}

#[cfg(test)]
mod tests;
