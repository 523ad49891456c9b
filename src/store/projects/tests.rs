//! Projects on the real tables.

use super::*;
use crate::demo;
use crate::recipe::{ProjectFacts, StepEdit, ToolKind};
use crate::store::Store;
use crate::store::bench::{
    BenchPaper, BenchSupply, BenchTool, Measured, ToolParams, delete_paper, delete_supply,
    delete_tool, insert_paper, insert_supply, insert_tool, list_uses_of_paper, list_uses_of_supply,
    list_uses_of_tool,
};
use crate::workshop::BroughtBy;

/// The project of the recipe's tests with its bench; gives its row number.
pub(in crate::store) async fn filled(store: &Store) -> i64 {
    let facts = demo::project();
    let mut change = store.change().await.unwrap();
    let tool = |kind: ToolKind, params| BenchTool {
        kind,
        name: kind.name().to_owned(),
        count: 2,
        brought_by: BroughtBy::Instructor,
        params,
    };
    let board = tool(ToolKind::PunchBoard, ToolParams::Board(facts.board));
    let board = insert_tool(&mut *change, &board).await.unwrap();
    let trimmer = ToolParams::Ruled(*facts.trimmer.ruler());
    let trimmer = insert_tool(&mut *change, &tool(ToolKind::Trimmer, trimmer))
        .await
        .unwrap();
    for name in [
        "Round seed tin",
        "Jute ribbon",
        "Seed packet",
        "Leaf sticker",
    ] {
        let supply = BenchSupply {
            name: name.to_owned(),
            measured: if name.contains("ribbon") {
                Measured::Length
            } else {
                Measured::Each
            },
            price_minor: None,
            on_hand: 0,
            spools: Vec::new(),
        };
        insert_supply(&mut *change, &supply).await.unwrap().unwrap();
    }
    let paper = BenchPaper {
        paper: facts.pieces[0].paper.clone(),
        price_minor: Some(60),
        on_hand: 0,
        same_as: None,
    };
    let paper = insert_paper(&mut *change, &paper).await.unwrap().unwrap();
    let project = Project {
        title: facts.title,
        makes: facts.makes,
        board: Some(board),
        trimmer,
        hands: None,
        wanted_of_100: ProjectFacts::USUAL_SHARE,
    };
    let id = insert_project(&mut *change, &project).await.unwrap();
    for piece in facts.pieces {
        let piece = Piece {
            name: piece.name,
            paper,
            spec: piece.spec,
        };
        insert_piece(&mut change, id, &piece).await.unwrap();
    }
    change.commit().await.unwrap();
    id
}

fn edit(key: &str, title: &str) -> StepEdit {
    StepEdit {
        key: key.to_owned(),
        title: Some(title.to_owned()),
        ..StepEdit::default()
    }
}

#[tokio::test]
async fn what_a_piece_uses_cannot_be_removed_and_is_named() {
    let store = Store::temporary().await.unwrap();
    let project = filled(&store).await;
    let read = store.read();
    for uses in [
        list_uses_of_paper(read, 1).await.unwrap(),
        list_uses_of_supply(read, 2).await.unwrap(),
        list_uses_of_tool(read, 1).await.unwrap(),
    ] {
        let titles: Vec<_> = uses
            .iter()
            .map(|used| (used.id, used.title.as_str()))
            .collect();
        assert_eq!(titles, [(project, "Seed-swap gifts")]);
    }
    let mut change = store.change().await.unwrap();
    assert!(delete_paper(&mut *change, 1).await.is_err());
    assert!(delete_supply(&mut *change, 2).await.is_err());
    assert!(delete_tool(&mut *change, 1).await.is_err());
}

#[tokio::test]
async fn a_supply_that_a_piece_no_longer_names_is_free() {
    let store = Store::temporary().await.unwrap();
    let project = filled(&store).await;
    let mut change = store.change().await.unwrap();
    let mut piece = find_piece(&mut *change, project, 1).await.unwrap().unwrap();
    piece.it.spec.ribbon = None;
    let at = (piece.id, piece.version);
    let done = update_piece(&mut change, at, &piece.it).await.unwrap();
    assert_eq!(done, Update::Done);
    delete_supply(&mut *change, 2).await.unwrap();
    let late = update_piece(&mut change, at, &piece.it).await.unwrap();
    assert_eq!(late, Update::Stale);
}

#[tokio::test]
async fn pieces_keep_the_order_they_are_put_in() {
    let store = Store::temporary().await.unwrap();
    let project = filled(&store).await;
    let mut change = store.change().await.unwrap();
    update_piece_order(&mut change, project, &[2, 1])
        .await
        .unwrap();
    let ids = |pieces: Vec<Saved<Piece>>| pieces.iter().map(|piece| piece.id).collect::<Vec<_>>();
    assert_eq!(
        ids(list_pieces(&mut *change, project).await.unwrap()),
        [2, 1]
    );
    insert_step_edit(&mut *change, project, &edit("p2.cut", "Mine"))
        .await
        .unwrap();
    insert_step_edit(&mut *change, project, &edit("p1.cut", "Mine"))
        .await
        .unwrap();
    delete_piece(&mut change, project, 2).await.unwrap();
    assert_eq!(ids(list_pieces(&mut *change, project).await.unwrap()), [1]);
    let left = list_step_edits(&mut *change, project).await.unwrap();
    let keys: Vec<_> = left.iter().map(|row| row.edit.key.as_str()).collect();
    assert_eq!(keys, ["p1.cut"]);
    assert!(
        find_piece(&mut *change, project + 1, 1)
            .await
            .unwrap()
            .is_none()
    );
}

#[tokio::test]
async fn a_stale_save_of_a_project_changes_nothing() {
    let store = Store::temporary().await.unwrap();
    let id = filled(&store).await;
    let mut change = store.change().await.unwrap();
    let mut project = find_project(&mut *change, id).await.unwrap().unwrap().it;
    project.makes = 20;
    let first = update_project(&mut *change, (id, 1), &project)
        .await
        .unwrap();
    assert_eq!(first, Update::Done);
    let late = update_project(&mut *change, (id, 1), &project)
        .await
        .unwrap();
    assert_eq!(late, Update::Stale);
    let all = list_projects(&mut *change).await.unwrap();
    assert_eq!((all.len(), all[0].it.makes, all[0].version), (1, 20, 2));
}

#[tokio::test]
async fn a_project_goes_with_its_pieces_unless_a_class_makes_it() {
    let store = Store::temporary().await.unwrap();
    let id = filled(&store).await;
    let mut change = store.change().await.unwrap();
    sqlx::query(
        "INSERT INTO class (project_id, title, date, starts, minutes, place)
         VALUES (?1, 'Seed-swap evening', '2026-11-28', '18:30', 120, 'Hall')",
    )
    .bind(id)
    .execute(&mut *change)
    .await
    .unwrap();
    assert!(delete_project(&mut *change, id).await.is_err());
    let uses = list_uses_of_project(&mut *change, id).await.unwrap();
    assert_eq!(uses[0].title, "Seed-swap evening");
    sqlx::query("DELETE FROM class")
        .execute(&mut *change)
        .await
        .unwrap();
    delete_project(&mut *change, id).await.unwrap();
    assert!(list_pieces(&mut *change, id).await.unwrap().is_empty());
}

#[tokio::test]
async fn a_move_keeps_what_a_step_says() {
    let store = Store::temporary().await.unwrap();
    let project = filled(&store).await;
    let mut change = store.change().await.unwrap();
    let done = insert_step_edit(&mut *change, project, &edit("p1.cut", "Mine")).await;
    assert_eq!(done.unwrap(), Update::Done);
    let twice = insert_step_edit(&mut *change, project, &edit("p1.cut", "Late")).await;
    assert_eq!(twice.unwrap(), Update::Stale);
    let keys = ["p1.tabs".to_owned(), "p1.cut".to_owned()];
    update_step_order(&mut change, project, &keys)
        .await
        .unwrap();
    let row = find_step_edit(&mut *change, project, "p1.cut")
        .await
        .unwrap()
        .unwrap();
    assert_eq!((row.version, row.edit.position), (1, Some(1.0)));
    assert_eq!(row.edit.title.as_deref(), Some("Mine"));
    let done = update_step_edit(&mut *change, project, 1, &edit("p1.cut", "Again")).await;
    assert_eq!(done.unwrap(), Update::Done);
    let late = update_step_edit(&mut *change, project, 1, &edit("p1.cut", "Late")).await;
    assert_eq!(late.unwrap(), Update::Stale);
    delete_step_edit(&mut *change, project, "p1.cut")
        .await
        .unwrap();
    let row = find_step_edit(&mut *change, project, "p1.cut")
        .await
        .unwrap()
        .unwrap();
    assert_eq!((row.edit.title, row.edit.position), (None, Some(1.0)));
}

#[tokio::test]
async fn own_steps_get_the_next_free_key() {
    let store = Store::temporary().await.unwrap();
    let project = filled(&store).await;
    let mut change = store.change().await.unwrap();
    let own = edit("", "Tidy the tables");
    for n in 1..=11 {
        let key = insert_own_step(&mut change, project, &own).await.unwrap();
        assert_eq!(key, format!("own-{n}"));
    }
    delete_step_edit(&mut *change, project, "own-3")
        .await
        .unwrap();
    let key = insert_own_step(&mut change, project, &own).await.unwrap();
    assert_eq!(key, "own-12");
    assert_eq!(
        list_step_edits(&mut *change, project).await.unwrap().len(),
        11
    );
}
