//! A project's own fields.

use serde::{Deserialize, Serialize};
use tablefold_geometry::Ruler;

use super::makers_fields::MakersFields;
use crate::forms::{FormErrors, quoted_part};
use crate::recipe::{ProjectFacts, ToolKind};
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
    #[serde(flatten)]
    pub(super) makers: MakersFields,
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
            makers: MakersFields::of(None, ProjectFacts::USUAL_SHARE, &bench.ruler()),
        }
    }

    /// The fields of a stored project.
    pub(super) fn of(project: &Project, ruler: &Ruler) -> Self {
        Self {
            title: project.title.clone(),
            makes: project.makes.to_string(),
            board: project.board.map_or_else(String::new, |id| id.to_string()),
            trimmer: project.trimmer.to_string(),
            makers: MakersFields::of(project.hands, project.wanted_of_100, ruler),
        }
    }

    /// The project that was typed.
    pub(super) fn read(&self, bench: &Bench, errors: &mut FormErrors) -> Option<Project> {
        let title = errors.text("title", "Title", &self.title, 80);
        let makes = errors.count("makes", "How many you usually make", &self.makes, 1..=400);
        let board = match self.board.as_str() {
            "" => Some(None),
            typed => {
                let (field, kind) = (("board", "Punch board"), ToolKind::PunchBoard);
                self.tool(field, typed, (bench, kind), errors).map(Some)
            }
        };
        let trimmer = self.tool(
            ("trimmer", "Trimmer"),
            &self.trimmer,
            (bench, ToolKind::Trimmer),
            errors,
        );
        let makers = self.makers.read(bench.ruler().unit(), errors);
        let (hands, wanted_of_100) = makers?;
        Some(Project {
            title: title?,
            makes: makes?,
            board: board?,
            trimmer: trimmer?,
            hands,
            wanted_of_100,
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
            board: self.board.parse().ok(),
            trimmer: self.trimmer.parse().ok()?,
            hands: None,
            wanted_of_100: ProjectFacts::USUAL_SHARE,
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

/// The punch boards for a select, with none.
pub(super) fn boards(bench: &Bench) -> Vec<(String, String)> {
    let none = (String::new(), "No punch board".to_owned());
    let mut boards = choices(bench, ToolKind::PunchBoard);
    boards.push(none);
    boards
}

/// The tools of one kind, for a select.
pub(super) fn choices(bench: &Bench, kind: ToolKind) -> Vec<(String, String)> {
    let tools = bench.tools.iter().filter(|tool| tool.it.kind == kind);
    tools
        .map(|tool| (tool.id.to_string(), tool.it.name.clone()))
        .collect()
}
