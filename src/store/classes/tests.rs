use super::super::Store;
use super::super::class_lists::sample;
use super::super::projects::{self, tests::filled};
use super::*;

#[tokio::test]
async fn a_class_comes_back_as_it_was_typed() {
    let store = Store::temporary().await.unwrap();
    filled(&store).await;
    let mut change = store.change().await.unwrap();
    let id = insert_class(&mut change, &sample::details()).await.unwrap();
    change.commit().await.unwrap();
    let class = find_class(store.read(), id).await.unwrap().unwrap();
    assert_eq!(class.details, sample::details());
    assert!(find_class(store.read(), id + 1).await.unwrap().is_none());
    let lines = list_classes(store.read()).await.unwrap();
    assert_eq!((lines[0].attendees, lines[0].revision), (0, None));
    assert_eq!(lines[0].project, "Seed-swap gifts");
}

#[tokio::test]
async fn a_stale_save_changes_nothing() {
    let store = Store::temporary().await.unwrap();
    filled(&store).await;
    let mut change = store.change().await.unwrap();
    let id = insert_class(&mut change, &sample::details()).await.unwrap();
    let mut later = sample::details();
    later.minutes = 90;
    assert!(update_class(&mut change, id, 1, &later).await.unwrap());
    assert!(
        !update_class(&mut change, id, 1, &sample::details())
            .await
            .unwrap()
    );
    for list in [
        ClassList::Colourways,
        ClassList::Attendees,
        ClassList::Tools,
        ClassList::Helpers,
    ] {
        assert!(
            update_list_version(&mut *change, id, list, 1)
                .await
                .unwrap()
        );
        assert!(
            !update_list_version(&mut *change, id, list, 1)
                .await
                .unwrap()
        );
    }
    let class = find_class(&mut *change, id).await.unwrap().unwrap();
    assert_eq!(class.details.minutes, 90);
    let all = Versions {
        details: 2,
        colourways: 2,
        attendees: 2,
        tools: 2,
        helpers: 2,
    };
    assert_eq!(class.versions, all);
}

#[tokio::test]
async fn a_class_keeps_its_choice_of_plan() {
    let store = Store::temporary().await.unwrap();
    let id = sample::class(&store).await;
    let mut change = store.change().await.unwrap();
    let mut chosen = vec![
        find_class(&mut *change, id)
            .await
            .unwrap()
            .unwrap()
            .cut_plan,
    ];
    let choice = PlanChoice::LeastFiddling;
    assert!(update_cut_plan(&mut *change, id, choice).await.unwrap());
    assert!(!update_cut_plan(&mut *change, id + 1, choice).await.unwrap());
    chosen.push(
        find_class(&mut *change, id)
            .await
            .unwrap()
            .unwrap()
            .cut_plan,
    );
    assert_eq!(chosen, [PlanChoice::LeastPaper, choice]);
}

#[tokio::test]
async fn projects_after_the_first_keep_their_order_and_hold_on_to_their_rows() {
    let store = Store::temporary().await.unwrap();
    let id = sample::class(&store).await;
    let mut change = store.change().await.unwrap();
    let first = projects::find_project(&mut *change, 1)
        .await
        .unwrap()
        .unwrap();
    for title in ["Cards", "Tags"] {
        let title = title.to_owned();
        let more = projects::Project {
            title,
            ..first.it.clone()
        };
        projects::insert_project(&mut *change, &more).await.unwrap();
    }
    let mut details = sample::details();
    details.also = vec![3, 2];
    assert!(update_class(&mut change, id, 1, &details).await.unwrap());
    let class = find_class(&mut *change, id).await.unwrap().unwrap();
    assert_eq!(class.details, details);
    assert_eq!(class.details.projects().collect::<Vec<_>>(), [1, 3, 2]);
    let titled = list_class_projects(&mut *change, id).await.unwrap();
    let titles: Vec<&str> = titled.iter().map(|(_, title)| title.as_str()).collect();
    assert_eq!(titles, ["Seed-swap gifts", "Tags", "Cards"]);
    let lines = list_classes(&mut *change).await.unwrap();
    assert_eq!(lines[0].project, "Seed-swap gifts, Tags and Cards");
    let uses = projects::list_uses_of_project(&mut *change, 3)
        .await
        .unwrap();
    assert_eq!(uses.len(), 1);
    assert!(projects::delete_project(&mut *change, 3).await.is_err());
    // A stale save leaves them.
    let alone = sample::details();
    assert!(!update_class(&mut change, id, 1, &alone).await.unwrap());
    let class = find_class(&mut *change, id).await.unwrap().unwrap();
    assert_eq!(class.details.also, [3, 2]);
    assert!(update_class(&mut change, id, 2, &alone).await.unwrap());
    assert!(projects::delete_project(&mut *change, 3).await.is_ok());
}

#[tokio::test]
async fn a_removed_class_takes_its_lists_along() {
    let store = Store::temporary().await.unwrap();
    let id = sample::class(&store).await;
    let mut change = store.change().await.unwrap();
    assert!(delete_class(&mut change, id).await.unwrap());
    assert!(!delete_class(&mut change, id).await.unwrap());
    for table in ["colourway", "attendee", "colourway_paper"] {
        let sql = format!("SELECT COUNT(*) FROM {table}");
        let left: i64 = sqlx::query_scalar(sqlx::AssertSqlSafe(sql))
            .fetch_one(&mut *change)
            .await
            .unwrap();
        assert_eq!(left, 0, "{table}");
    }
}
