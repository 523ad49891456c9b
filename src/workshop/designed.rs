//! Which papers a project is designed for: what a first colourway starts from.

use tablefold_geometry::Length;

use crate::recipe::{PieceFacts, PieceSpec, ProjectFacts, Recipe, Role};

/// Each role of a project with the paper (its row number) that it is designed for, in the
/// order in which pieces name them. Where pieces share a role, the thinnest paper serves all.
#[must_use]
pub fn designed_for(project: &ProjectFacts) -> Vec<(Role, i64)> {
    let mut roles: Vec<(Role, i64, Length)> = Vec::new();
    for piece in &project.pieces {
        for role in roles_of(&piece.spec) {
            note(&mut roles, role, piece);
        }
    }
    roles
        .into_iter()
        .map(|(role, paper, _)| (role, paper))
        .collect()
}

/// The roles that a colourway of a class gives a paper: those that pieces are designed for, then
/// what is chosen without a paper to start from, such as the film of a window.
#[must_use]
pub fn roles_to_choose(project: &ProjectFacts) -> Vec<Role> {
    let designed = designed_for(project).into_iter().map(|(role, _)| role);
    let mut roles: Vec<Role> = designed.collect();
    let needed = Recipe::build(project).map_or_else(|_| Vec::new(), |recipe| recipe.roles());
    let more: Vec<Role> = needed
        .into_iter()
        .filter(|role| !roles.contains(role))
        .collect();
    roles.extend(more);
    roles
}

fn note(roles: &mut Vec<(Role, i64, Length)>, role: &str, piece: &PieceFacts) {
    let caliper = piece.paper.caliper;
    match roles.iter_mut().find(|(other, ..)| other == role) {
        Some(known) if caliper < known.2 => (known.1, known.2) = (piece.paper_id, caliper),
        Some(_) => {}
        None => roles.push((role.to_owned(), piece.paper_id, caliper)),
    }
}

fn roles_of(spec: &PieceSpec) -> Vec<&str> {
    let mut roles = vec![spec.role.as_str(), spec.second_role()];
    roles.extend(
        spec.mats
            .iter()
            .flat_map(|mats| &mats.roles)
            .map(String::as_str),
    );
    roles.extend(spec.band.iter().map(|band| band.role.as_str()));
    if let Some(tag) = &spec.tag {
        roles.push(&tag.role);
        roles.extend(tag.mat.iter().map(|mat| mat.role.as_str()));
    }
    roles
}

#[cfg(test)]
mod tests {
    use tablefold_geometry::StructureKind;

    use super::*;
    use crate::demo::project;

    #[test]
    fn a_first_colourway_serves_every_role_of_the_recipe() {
        let project = project();
        let mut designed: Vec<Role> = designed_for(&project).into_iter().map(|d| d.0).collect();
        let mut needed = Recipe::build(&project).expect("can be made").roles();
        designed.sort();
        needed.sort();
        assert_eq!(designed, needed);
    }

    #[test]
    fn film_is_chosen_though_no_piece_is_designed_for_it() {
        let mut project = project();
        let before = roles_to_choose(&project);
        let spec = &mut project.pieces[0].spec;
        spec.structure = StructureKind::find("tray").expect("registered");
        spec.fit.window = Some(Length::from_mm(30));
        let mut after = roles_to_choose(&project);
        assert_eq!(after.pop().as_deref(), Some("window film"));
        assert_eq!(after, before);
    }

    #[test]
    fn pieces_that_share_a_role_get_the_thinnest_paper() {
        let mut project = project();
        project.pieces[1].paper.caliper = Length::from_nm(100_000);
        project.pieces[1].paper_id = 5;
        let main = |designed: Vec<(Role, i64)>| designed.into_iter().find(|d| d.0 == "main");
        assert_eq!(main(designed_for(&project)).map(|d| d.1), Some(5));
    }
}
