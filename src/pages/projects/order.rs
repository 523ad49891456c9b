//! The order in which steps are shown and moved: prep first, as it is done first.

use crate::recipe::{MoveRefused, Operation, Phase, Recipe, moved};

/// The steps of one phase, in order, hidden ones too.
fn of_phase(recipe: &Recipe, phase: Phase) -> Vec<Operation> {
    let operations = recipe.steps.iter().map(|step| &step.operation);
    operations.filter(|it| it.phase == phase).cloned().collect()
}

fn keys(operations: &[Operation]) -> Vec<String> {
    operations.iter().map(|it| it.key.clone()).collect()
}

/// All keys: prep, then class.
pub(super) fn in_order(recipe: &Recipe) -> Vec<String> {
    let mut all = keys(&of_phase(recipe, Phase::Prep));
    all.extend(keys(&of_phase(recipe, Phase::Class)));
    all
}

/// All keys after a step went one place up or down among those of its phase.
///
/// # Errors
/// The step that must come first, or that the step is at the end.
pub(super) fn after_move(recipe: &Recipe, key: &str, up: bool) -> Result<Vec<String>, MoveRefused> {
    let (mut prep, mut class) = (
        of_phase(recipe, Phase::Prep),
        of_phase(recipe, Phase::Class),
    );
    let is_prep = prep.iter().any(|it| it.key == key);
    let list = if is_prep { &mut prep } else { &mut class };
    let order = moved(list, key, up)?;
    list.sort_by_key(|it| order.iter().position(|other| *other == it.key));
    let mut all = keys(&prep);
    all.extend(keys(&class));
    Ok(all)
}

/// All keys with the steps of each piece together, in the order of the pieces. A step of the
/// instructor's own stays behind the step that it stood behind.
pub(super) fn by_piece(recipe: &Recipe) -> Vec<String> {
    let mut all = Vec::new();
    for phase in [Phase::Prep, Phase::Class] {
        let mut piece = 0;
        let mut list: Vec<(usize, String)> = of_phase(recipe, phase)
            .into_iter()
            .map(|it| {
                piece = it.piece.unwrap_or(piece);
                (piece, it.key)
            })
            .collect();
        list.sort_by_key(|(piece, _)| *piece);
        all.extend(list.into_iter().map(|(_, key)| key));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demo;

    fn recipe() -> Recipe {
        Recipe::build(&demo::project()).expect("the demo can be made")
    }

    #[test]
    fn prep_comes_before_class() {
        let recipe = recipe();
        let keys = in_order(&recipe);
        assert_eq!(keys.len(), recipe.steps.len());
        let phase = |key: &String| recipe.step(key).map(|step| step.operation.phase);
        let first_class = keys.iter().position(|key| phase(key) == Some(Phase::Class));
        let rest = &keys[first_class.expect("some")..];
        assert!(rest.iter().all(|key| phase(key) == Some(Phase::Class)));
    }

    #[test]
    fn a_move_never_breaks_what_must_come_first() {
        let recipe = recipe();
        for key in in_order(&recipe) {
            for up in [true, false] {
                let Ok(keys) = after_move(&recipe, &key, up) else {
                    continue;
                };
                for step in &recipe.steps {
                    let place = |key: &String| keys.iter().position(|other| other == key);
                    let at = place(&step.operation.key);
                    for before in &step.operation.after {
                        assert!(place(before) < at, "{before} after {}", step.operation.key);
                    }
                }
            }
        }
    }
}
