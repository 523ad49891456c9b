//! Which papers a project is designed for: what a first colourway starts from.

use tablefold_geometry::Length;

use crate::recipe::{PieceFacts, PieceSpec, ProjectFacts, Role};

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
    use super::*;
    use crate::demo::project;
    use crate::recipe::Recipe;

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
    fn pieces_that_share_a_role_get_the_thinnest_paper() {
        let mut project = project();
        project.pieces[1].paper.caliper = Length::from_nm(100_000);
        project.pieces[1].paper_id = 5;
        let main = |designed: Vec<(Role, i64)>| designed.into_iter().find(|d| d.0 == "main");
        assert_eq!(main(designed_for(&project)).map(|d| d.1), Some(5));
    }
}
