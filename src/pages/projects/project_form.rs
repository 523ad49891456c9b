//! A project's own fields.

use serde::{Deserialize, Serialize};

use crate::forms::{FormErrors, quoted_part};
use crate::recipe::ToolKind;
use crate::store::project_facts::Bench;
use crate::store::projects::Project;

/// What was typed.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct ProjectFields {
    pub(super) title: String,
    pub(super) makes: String,
    pub(super) board: String,
    pub(super) trimmer: String,
}

impl ProjectFields {
    /// Empty fields with the first board and trimmer of the bench.
    pub(super) fn usual(bench: &Bench) -> Self {
        let first = |kind| {
            let found = choices(bench, kind).into_iter().next();
            found.map_or_else(String::new, |(id, _)| id)
        };
        Self {
            title: String::new(),
            makes: "12".to_owned(),
            board: first(ToolKind::PunchBoard),
            trimmer: first(ToolKind::Trimmer),
        }
    }

    /// The fields of a stored project.
    pub(super) fn of(project: &Project) -> Self {
        Self {
            title: project.title.clone(),
            makes: project.makes.to_string(),
            board: project.board.to_string(),
            trimmer: project.trimmer.to_string(),
        }
    }

    /// The project that was typed.
    pub(super) fn read(&self, bench: &Bench, errors: &mut FormErrors) -> Option<Project> {
        let title = errors.text("title", "Title", &self.title, 80);
        let makes = errors.count("makes", "How many you usually make", &self.makes, 1..=400);
        let board = self.tool(
            ("board", "Punch board"),
            &self.board,
            (bench, ToolKind::PunchBoard),
            errors,
        );
        let trimmer = self.tool(
            ("trimmer", "Trimmer"),
            &self.trimmer,
            (bench, ToolKind::Trimmer),
            errors,
        );
        Some(Project {
            title: title?,
            makes: makes?,
            board: board?,
            trimmer: trimmer?,
        })
    }

    /// The tools and the number of makes, where the title may still be missing.
    pub(super) fn tools(&self, bench: &Bench, errors: &mut FormErrors) -> Option<Project> {
        let named = Self {
            title: "-".to_owned(),
            ..self.clone()
        };
        named.read(bench, errors)
    }

    /// Something to read the piece with while these fields are wrong.
    pub(super) fn stand_in(&self) -> Option<Project> {
        Some(Project {
            title: String::new(),
            makes: 1,
            board: self.board.parse().ok()?,
            trimmer: self.trimmer.parse().ok()?,
        })
    }

    fn tool(
        &self,
        (field, label): (&'static str, &str),
        typed: &str,
        (bench, kind): (&Bench, ToolKind),
        errors: &mut FormErrors,
    ) -> Option<i64> {
        let id = typed.parse().ok();
        let found = bench
            .tools
            .iter()
            .find(|tool| Some(tool.id) == id && tool.it.kind == kind);
        if found.is_none() {
            let quoted = quoted_part(typed);
            errors.add(
                field,
                format!(
                    "{label}: \"{quoted}\" is no {} of your bench. Choose one from the list.",
                    kind.name()
                ),
            );
        }
        found.map(|tool| tool.id)
    }
}

/// The tools of one kind, for a select.
pub(super) fn choices(bench: &Bench, kind: ToolKind) -> Vec<(String, String)> {
    let tools = bench.tools.iter().filter(|tool| tool.it.kind == kind);
    tools
        .map(|tool| (tool.id.to_string(), tool.it.name.clone()))
        .collect()
}
