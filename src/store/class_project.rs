//! What a class makes: its project, or several as one.

use sqlx::SqliteConnection;

use super::StoreResult;
use super::classes::ClassDetails;
use super::project_facts::project_facts;
use crate::recipe::{CannotJoin, ProjectFacts};

/// What a class makes.
#[derive(Clone, Debug)]
pub struct ClassProject {
    /// All projects as one; the first alone where they can't be joined.
    pub facts: ProjectFacts,
    /// Why they can't be joined: a project may have changed its tools since.
    pub apart: Option<CannotJoin>,
}

/// The projects of a class as one; `None` where one of them does not exist.
/// Call it in a transaction, so that all of it is of one moment.
///
/// # Errors
/// When the database fails.
pub async fn class_project(
    db: &mut SqliteConnection,
    details: &ClassDetails,
) -> StoreResult<Option<ClassProject>> {
    let Some(first) = project_facts(&mut *db, details.project_id).await? else {
        return Ok(None);
    };
    let mut others = Vec::new();
    for &row in &details.also {
        let Some(other) = project_facts(&mut *db, row).await? else {
            return Ok(None);
        };
        others.push((row, other));
    }
    let alone = first.clone();
    Ok(Some(match first.joined(others) {
        Ok(facts) => ClassProject { facts, apart: None },
        Err(apart) => ClassProject {
            facts: alone,
            apart: Some(apart),
        },
    }))
}
