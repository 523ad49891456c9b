//! Getting in and out.

use jiff::SignedDuration;
use tablefold::{accounts, urls};

use crate::visitor::{NAME, PASSWORD, Server, Visitor};

async fn setup_path(server: &Server) -> String {
    let link = accounts::make_setup_link(&server.app)
        .await
        .unwrap()
        .unwrap();
    let base = server.app.config().base_url.to_string();
    link.strip_prefix(&base).unwrap().to_owned()
}

async fn try_password(visitor: &mut Visitor<'_>, password: &str) -> crate::visitor::Answer {
    let fields = [("name", NAME), ("password", password)];
    visitor.post(&urls::sign_in(), &fields).await
}

#[tokio::test]
async fn the_first_link_sets_up_the_workshop_and_signs_in() {
    let server = Server::empty().await;
    let path = setup_path(&server).await;
    let mut visitor = server.anonymous();
    visitor
        .get(&path)
        .await
        .expect(200)
        .shows("Choose the name and the password");
    let fields = [("name", NAME), ("password", PASSWORD)];
    let answer = visitor.post(&path, &fields).await.expect(303);
    assert_eq!(answer.location(), urls::home());
    visitor
        .get(&urls::home())
        .await
        .expect(200)
        .shows("Hello Ines.");

    let again = server.anonymous().get(&path).await.expect(404);
    again
        .shows("This link does not open anything")
        .hides("<nav");
    assert!(
        accounts::make_setup_link(&server.app)
            .await
            .unwrap()
            .is_none()
    );
}

#[tokio::test]
async fn a_setup_with_errors_keeps_the_name_and_says_what_would_do() {
    let server = Server::empty().await;
    let path = setup_path(&server).await;
    let mut visitor = server.anonymous();
    let answer = visitor
        .post(&path, &[("name", "Ines <b>"), ("password", "seeds")])
        .await;
    answer
        .expect(422)
        .shows("5 characters are too few")
        .shows("value=\"Ines &#60;b&#62;\"")
        .shows("href=\"#f-password\"")
        .shows("aria-invalid=\"true\"")
        .shows("aria-describedby=\"h-password e-password\"")
        .hides("seeds");
    visitor.get(&path).await.expect(200);
}

#[tokio::test]
async fn a_setup_link_lasts_a_day_and_until_the_next_start() {
    let server = Server::empty().await;
    let first = setup_path(&server).await;
    let second = setup_path(&server).await;
    server.anonymous().get(&first).await.expect(404);
    server.anonymous().get(&second).await.expect(200);
    server.wait(SignedDuration::from_hours(24));
    server.anonymous().get(&second).await.expect(404);
}

#[tokio::test]
async fn a_sign_in_link_works_once_and_only_when_the_button_is_pressed() {
    let server = Server::empty().await.with_instructor().await;
    let link = accounts::make_sign_in_link(&server.app).await.unwrap();
    let path = link.strip_prefix("http://class.example:8080").unwrap();
    for _ in 0..2 {
        server.anonymous().get(path).await.expect(200);
    }
    let mut visitor = server.anonymous();
    visitor.post(path, &[]).await.expect(303);
    visitor.get(&urls::home()).await.expect(200);
    server.anonymous().post(path, &[]).await.expect(404);
}

#[tokio::test]
async fn a_page_sends_to_sign_in_and_back() {
    let server = Server::empty().await.with_instructor().await;
    let mut visitor = server.anonymous();
    let answer = visitor.get("/account?done=password").await.expect(303);
    assert_eq!(
        answer.location(),
        "/sign-in?next=%2Faccount%3Fdone%3Dpassword"
    );
    let page = visitor
        .get("/sign-in?next=%2Faccount%3Fdone%3Dpassword")
        .await
        .expect(200);
    assert_eq!(
        page.between("name=\"next\" value=\"", "\""),
        "/account?done=password"
    );
    page.hides("Nobody has set this server up");
    let fields = [
        ("name", "ines "),
        ("password", PASSWORD),
        ("next", "/account"),
    ];
    let answer = visitor.post(&urls::sign_in(), &fields).await.expect(303);
    assert_eq!(answer.location(), "/account");
    visitor
        .get("/account")
        .await
        .expect(200)
        .shows("aria-current=\"page\">Account");
}

#[tokio::test]
async fn signing_in_never_leads_to_another_server() {
    let server = Server::empty().await.with_instructor().await;
    for next in [
        "https://other.example/",
        "//other.example",
        "/\\other.example",
    ] {
        let fields = [("name", NAME), ("password", PASSWORD), ("next", next)];
        let answer = server
            .anonymous()
            .post(&urls::sign_in(), &fields)
            .await
            .expect(303);
        assert_eq!(answer.location(), "/", "{next}");
    }
}

#[tokio::test]
async fn a_form_without_a_session_says_that_nothing_was_saved() {
    let server = Server::empty().await.with_instructor().await;
    let fields = [
        ("old_password", PASSWORD),
        ("new_password", "four new paper tins"),
    ];
    let answer = server
        .anonymous()
        .post(&urls::account_password(), &fields)
        .await;
    answer
        .expect(401)
        .shows("nothing was saved yet")
        .shows("href=\"/sign-in\" target=\"_blank\"");
}

#[tokio::test]
async fn a_wrong_password_and_a_wrong_name_get_the_same_answer() {
    let server = Server::empty().await.with_instructor().await;
    let wrong_password = try_password(&mut server.anonymous(), "wrong")
        .await
        .expect(422);
    let fields = [("name", "Otto"), ("password", "wrong")];
    let wrong_name = server
        .anonymous()
        .post(&urls::sign_in(), &fields)
        .await
        .expect(422);
    let same = |text: &str| text.replace("Otto", NAME);
    assert_eq!(same(&wrong_password.text), same(&wrong_name.text));
    wrong_name
        .shows("Name and password do not fit. Try again in 1 second.")
        .shows("value=\"Otto\"");
}

#[tokio::test]
async fn wrong_passwords_make_a_pause_and_the_right_one_opens_after_it() {
    let server = Server::empty().await.with_instructor().await;
    let mut visitor = server.anonymous();
    try_password(&mut visitor, "wrong").await.expect(422);
    try_password(&mut visitor, PASSWORD)
        .await
        .expect(429)
        .shows("Try again in 1 second.");
    server.wait(SignedDuration::from_secs(1));
    try_password(&mut visitor, "wrong")
        .await
        .expect(422)
        .shows("Try again in 2 seconds.");
    server.wait(SignedDuration::from_secs(2));
    try_password(&mut visitor, PASSWORD).await.expect(303);
}

#[tokio::test]
async fn a_session_ends_after_12_idle_hours_and_after_14_days() {
    let server = Server::empty().await.with_instructor().await;
    let mut visitor = server.signed_in().await;
    server.wait(SignedDuration::from_mins(12 * 60 - 1));
    visitor.get(&urls::account()).await.expect(200);
    server.wait(SignedDuration::from_hours(12));
    visitor.get(&urls::account()).await.expect(303);

    let mut visitor = server.signed_in().await;
    for _ in 0..33 {
        server.wait(SignedDuration::from_hours(10));
        visitor.get(&urls::account()).await.expect(200);
    }
    server.wait(SignedDuration::from_hours(6));
    visitor.get(&urls::account()).await.expect(303);
}

#[tokio::test]
async fn signing_out_ends_the_session_on_the_server() {
    let server = Server::empty().await.with_instructor().await;
    let mut visitor = server.signed_in().await;
    let kept = visitor.cookie.clone();
    visitor.post(&urls::sign_out(), &[]).await.expect(303);
    assert_eq!(visitor.cookie, None);
    visitor.cookie = kept;
    visitor.get(&urls::account()).await.expect(303);
}

#[tokio::test]
async fn each_sign_in_gets_a_new_token_and_only_its_hash_is_stored() {
    let server = Server::empty().await.with_instructor().await;
    let (mut one, mut other) = (server.anonymous(), server.anonymous());
    try_password(&mut one, PASSWORD).await.expect(303);
    try_password(&mut other, PASSWORD).await.expect(303);
    assert_ne!(one.cookie, other.cookie);
    let stored: Vec<Vec<u8>> = sqlx::query_scalar("SELECT token_hash FROM session")
        .fetch_all(server.app.store().read())
        .await
        .unwrap();
    let token = one.cookie.unwrap().split_once('=').unwrap().1.to_owned();
    assert!(
        stored
            .iter()
            .all(|hash| hash.len() == 32 && hash != token.as_bytes())
    );
    assert!(stored.contains(&tablefold::token::hash_of(&token).to_vec()));
}

#[tokio::test]
async fn a_new_password_signs_every_other_browser_out() {
    let server = Server::empty().await.with_instructor().await;
    let (mut here, mut there) = (server.signed_in().await, server.signed_in().await);
    here.get(&urls::account_password()).await.expect(200);
    let fields = [
        ("old_password", PASSWORD),
        ("new_password", "four new paper tins"),
    ];
    let answer = here
        .post(&urls::account_password(), &fields)
        .await
        .expect(303);
    here.get(answer.location())
        .await
        .expect(200)
        .shows("Your password is changed.");
    there.get(&urls::account()).await.expect(303);
    let mut visitor = server.anonymous();
    try_password(&mut visitor, PASSWORD).await.expect(422);
    server.wait(SignedDuration::from_secs(1));
    try_password(&mut visitor, "four new paper tins")
        .await
        .expect(303);
}

#[tokio::test]
async fn a_new_password_needs_the_present_one() {
    let server = Server::empty().await.with_instructor().await;
    let mut visitor = server.signed_in().await;
    let fields = [("old_password", "wrong"), ("new_password", "short")];
    let answer = visitor
        .post(&urls::account_password(), &fields)
        .await
        .expect(422);
    answer
        .shows("2 fields need another look")
        .shows("this is not the one you signed in with")
        .shows("5 characters are too few");
}

#[tokio::test]
async fn guessing_the_present_password_meets_the_same_pause() {
    let server = Server::empty().await.with_instructor().await;
    let mut visitor = server.signed_in().await;
    let url = urls::account_password();
    let wrong = [
        ("old_password", "wrong"),
        ("new_password", "four new paper tins"),
    ];
    let right = [
        ("old_password", PASSWORD),
        ("new_password", "four new paper tins"),
    ];
    visitor.post(&url, &wrong).await.expect(422);
    let paused = visitor.post(&url, &right).await.expect(422);
    paused.shows("too many wrong ones came before this. Try again in 1 second.");
    server.wait(SignedDuration::from_secs(1));
    visitor.post(&url, &right).await.expect(303);
}

#[tokio::test]
async fn of_two_people_with_one_setup_link_one_gets_in() {
    let server = Server::empty().await;
    let path = setup_path(&server).await;
    let (mut one, mut other) = (server.anonymous(), server.anonymous());
    let fields = [("name", NAME), ("password", PASSWORD)];
    let (first, second) = tokio::join!(one.post(&path, &fields), other.post(&path, &fields));
    let mut statuses = [first.status.as_u16(), second.status.as_u16()];
    statuses.sort_unstable();
    assert_eq!(statuses, [303, 404]);
}

#[tokio::test]
async fn a_weak_hash_is_renewed_when_its_owner_signs_in() {
    use argon2::password_hash::phc::PasswordHash;
    use argon2::{Argon2, Params, PasswordHasher};
    let server = Server::empty().await.with_instructor().await;
    let weak: PasswordHash = Argon2::from(Params::new(8_192, 1, 1, None).unwrap())
        .hash_password(PASSWORD.as_bytes())
        .unwrap();
    sqlx::query("UPDATE instructor SET password_hash = ?1")
        .bind(weak.to_string())
        .execute(server.app.store().read())
        .await
        .unwrap();
    try_password(&mut server.anonymous(), PASSWORD)
        .await
        .expect(303);
    let hash: String = sqlx::query_scalar("SELECT password_hash FROM instructor")
        .fetch_one(server.app.store().read())
        .await
        .unwrap();
    assert!(hash.contains("m=19456,t=2,p=1"), "{hash}");
    try_password(&mut server.anonymous(), PASSWORD)
        .await
        .expect(303);
}

#[tokio::test]
async fn before_the_setup_the_sign_in_page_tells_the_way_in() {
    let server = Server::empty().await;
    let page = server.anonymous().get(&urls::sign_in()).await.expect(200);
    page.shows("finds a link in the terminal window")
        .hides("<form");
}
