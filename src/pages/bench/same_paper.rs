//! The field that says which paper another size belongs to.

use crate::forms::{FormErrors, quoted_part};
use crate::store::Saved;
use crate::store::bench::BenchPaper;

const FIELD: &str = "same_as";

/// All papers of the bench, as the form of one of them sees them.
pub(super) struct Papers {
    papers: Vec<Saved<BenchPaper>>,
    /// Row number of the form's own paper, once it has one.
    own: Option<i64>,
}

impl Papers {
    pub(super) const fn new(papers: Vec<Saved<BenchPaper>>, own: Option<i64>) -> Self {
        Self { papers, own }
    }

    /// Names to choose from, and none: papers that are no other one's size.
    pub(super) fn choices(&self) -> Vec<(&str, &str)> {
        let others = self
            .papers
            .iter()
            .filter(|paper| paper.it.same_as.is_none() && Some(paper.id) != self.own);
        let names = others.map(|paper| paper.it.paper.name.as_str());
        let none = ("", "A paper of its own");
        std::iter::once(none)
            .chain(names.map(|name| (name, name)))
            .collect()
    }

    /// The name of a paper; empty for none.
    pub(super) fn name(&self, id: Option<i64>) -> &str {
        let found = self.papers.iter().find(|paper| Some(paper.id) == id);
        found.map_or("", |paper| &paper.it.paper.name)
    }

    /// Notes in `paper` which paper it is another size of; false for a bad choice.
    pub(super) fn read(
        &self,
        typed: &str,
        paper: &mut BenchPaper,
        errors: &mut FormErrors,
    ) -> bool {
        if typed.is_empty() {
            return true;
        }
        let found = self.papers.iter().find(|it| it.it.paper.name == typed);
        let chosen = found.ok_or_else(|| {
            format!(
                "\"{}\" is not in the list. Choose one from the list.",
                quoted_part(typed)
            )
        });
        let chosen = chosen.and_then(|chosen| {
            let fault = self.fault(chosen, paper);
            fault.map_or(Ok(chosen.id), Err)
        });
        let chosen = errors.keep(FIELD, "Same paper as", chosen);
        paper.same_as = chosen;
        chosen.is_some()
    }

    /// Why `paper` can't be another size of the chosen one.
    fn fault(&self, chosen: &Saved<BenchPaper>, paper: &BenchPaper) -> Option<String> {
        let name = &chosen.it.paper.name;
        if Some(chosen.id) == self.own {
            return Some(format!(
                "\"{name}\" is this paper itself. Choose another one, or a paper of its own."
            ));
        }
        if chosen.it.same_as.is_some() {
            let main = self.name(chosen.it.same_as);
            return Some(format!(
                "\"{name}\" is itself another size of \"{main}\". Choose \"{main}\"."
            ));
        }
        let mut sizes = self.papers.iter();
        let own_size = sizes.find(|it| self.own.is_some() && it.it.same_as == self.own);
        if let Some(size) = own_size {
            let size = &size.it.paper.name;
            return Some(format!(
                "\"{size}\" is another size of this paper. Choose a paper of its own here, or \"{name}\" for \"{size}\" first."
            ));
        }
        let (theirs, own) = (chosen.it.paper.caliper, paper.paper.caliper);
        (theirs != own).then(|| {
            let (theirs, own) = (theirs.exact_text(), own.exact_text());
            format!(
                "\"{name}\" is {theirs} thick and this paper {own}. Choose a paper of the same thickness, or type {theirs} for this one."
            )
        })
    }
}
