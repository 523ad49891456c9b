//! Every message of a field, as the reader sees it.

use super::*;

fn message(check: impl FnOnce(&mut FormErrors)) -> String {
    let mut errors = FormErrors::default();
    check(&mut errors);
    let all: Vec<_> = errors.iter().map(|error| error.message.clone()).collect();
    all.join("\n")
}

fn count_message(typed: &str) -> String {
    message(|errors| {
        assert_eq!(errors.count("attendees", "Attendees", typed, 1..=400), None);
    })
}

fn money_message(typed: &str) -> String {
    message(|errors| {
        assert_eq!(
            errors.optional_money("price", "Price", typed, Currency::NONE),
            None
        )
    })
}

fn text_message(typed: &str) -> String {
    message(|errors| assert_eq!(errors.text("name", "Name", typed, 10), None))
}

#[test]
fn each_wrong_count_says_what_would_do() {
    insta::assert_snapshot!(count_message("0"), @r#"Attendees: "0" is too few. Type a number from 1 to 400."#);
    insta::assert_snapshot!(count_message("-3"), @r#"Attendees: "-3" is too few. Type a number from 1 to 400."#);
    insta::assert_snapshot!(count_message("10000"), @r#"Attendees: "10000" is too many. Type a number from 1 to 400."#);
    insta::assert_snapshot!(count_message("99999999999999999999999"), @r#"Attendees: "99999999999999999999999" is too many. Type a number from 1 to 400."#);
    insta::assert_snapshot!(count_message("fourteen"), @r#"Attendees: "fourteen" is not a whole number. Type a number from 1 to 400."#);
    insta::assert_snapshot!(count_message("14.5"), @r#"Attendees: "14.5" is not a whole number. Type a number from 1 to 400."#);
    insta::assert_snapshot!(count_message(" "), @"Attendees: nothing is typed. Type a number from 1 to 400.");
    insta::assert_snapshot!(count_message("🌱"), @r#"Attendees: "🌱" is not a whole number. Type a number from 1 to 400."#);
}

#[test]
fn counts_within_their_range_are_read() {
    let mut errors = FormErrors::default();
    for (typed, number) in [("1", 1), (" 14 ", 14), ("0400", 400)] {
        assert_eq!(errors.count("n", "N", typed, 1..=400), Some(number));
    }
    assert_eq!(errors.count("n", "Spares", "-0", 0..=4), Some(0));
    assert!(errors.is_empty());
}

#[test]
fn each_wrong_amount_says_what_would_do() {
    insta::assert_snapshot!(money_message("£4"), @r#"Price: "£4" is not an amount. Type one like 4.50, without the currency."#);
    insta::assert_snapshot!(money_message("-1"), @r#"Price: "-1" is not an amount. Type one like 4.50, without the currency."#);
    insta::assert_snapshot!(money_message("1.234"), @r#"Price: "1.234" has more than 2 digits after the point. Type an amount like 4.50."#);
    insta::assert_snapshot!(money_message("99999999999999999999"), @r#"Price: "99999999999999999999" is too much. Type an amount up to 1000000.00."#);
}

#[test]
fn amounts_are_read_in_minor_units_and_written_back() {
    let mut errors = FormErrors::default();
    for (typed, minor, written) in [
        ("4", 400, "4.00"),
        ("4,5", 450, "4.50"),
        ("0.07", 7, "0.07"),
    ] {
        let read = errors.optional_money("p", "Price", typed, Currency::NONE);
        assert_eq!(read, Some(Some(minor)));
        assert_eq!(Currency::NONE.price(minor), written);
    }
    let nothing = errors.optional_money("p", "Price", "  ", Currency::NONE);
    assert_eq!(nothing, Some(None));
    assert!(errors.is_empty());
}

#[test]
fn each_wrong_text_says_what_would_do() {
    insta::assert_snapshot!(text_message("  "), @"Name: nothing is typed. Type at least one character.");
    insta::assert_snapshot!(text_message("a seed-swap evening"), @r#"Name: "a seed-swap evening" has 19 characters. Type at most 10."#);
    insta::assert_snapshot!(text_message("one\ntwo"), @r#"Name: "one�two" holds characters that do not print. Type it in one line, without control characters."#);
    let long = "x".repeat(1_000_000);
    insta::assert_snapshot!(text_message(&long), @r#"Name: "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…" has 1000000 characters. Type at most 10."#);
}

#[test]
fn text_is_trimmed_and_may_hold_any_script() {
    let mut errors = FormErrors::default();
    assert_eq!(
        errors.text("n", "Name", "  Ωmega 🌱 ", 10).as_deref(),
        Some("Ωmega 🌱")
    );
    assert_eq!(
        errors.optional_text("n", "Name", " ", 10).as_deref(),
        Some("")
    );
    assert_eq!(
        errors.lines("n", "Note", "a\r\nb", 10).as_deref(),
        Some("a\nb")
    );
    assert!(errors.is_empty());
}

#[test]
fn a_choice_is_one_of_those_offered() {
    let offered = [("box", 1), ("envelope", 2)];
    let mut errors = FormErrors::default();
    assert_eq!(errors.choice("kind", "Kind", "envelope", &offered), Some(2));
    let none = message(|errors| assert_eq!(errors.choice("kind", "Kind", "", &offered), None));
    insta::assert_snapshot!(none, @"Kind: nothing is chosen. Choose one from the list.");
    let other = message(|errors| assert_eq!(errors.choice("kind", "Kind", "bag", &offered), None));
    insta::assert_snapshot!(other, @r#"Kind: "bag" is not in the list. Choose one from the list."#);
}

#[test]
fn errors_keep_their_order_and_find_their_field() {
    let mut errors = FormErrors::default();
    errors.add("b", "second field first");
    errors.add("a", "first field second");
    errors.add("b", "another");
    assert_eq!(errors.len(), 3);
    assert_eq!(errors.of("b"), Some("second field first"));
    assert_eq!(errors.of(&"a".to_owned()), Some("first field second"));
    assert_eq!(errors.of("c"), None);
}

/// Every macro of `_macros.html` on one page.
#[derive(askama::Template)]
#[template(
    source = r#"{% import "_macros.html" as form %}
{{ form::summary(errors) }}
{{ form::text("name", "Name", name, errors, hint = "As on the card.", unit = "mm", inputmode = "decimal", optional = true) }}
{{ form::textarea("note", "Note", name, errors) }}
{{ form::select("unit", "Unit", unit, units, errors) }}
{{ form::checkbox("grain", "Grain matters", true, errors) }}
{{ form::password("password", "Password", errors) }}
{{ form::submit("Save") }}
{{ form::measure("5 1/4 in") }}{{ form::measure(name) }}"#,
    ext = "html"
)]
struct EveryField {
    name: String,
    unit: String,
    units: Vec<(&'static str, &'static str)>,
    errors: FormErrors,
}

#[test]
fn fields_keep_what_was_typed_and_tie_the_error_to_the_input() {
    let mut errors = FormErrors::default();
    errors.add("name", "Name: \"<i>\" is odd.");
    errors.add("unit", "Unit: not that one.");
    let page = EveryField {
        name: "\n<i>\"".to_owned(),
        unit: "in".to_owned(),
        units: vec![("mm", "millimetres"), ("in", "inches")],
        errors,
    };
    let html = askama::Template::render(&page).unwrap();
    let lines: Vec<_> = html
        .lines()
        .map(str::trim)
        .filter(|line| !line.is_empty())
        .collect();
    insta::assert_snapshot!(lines.join("\n"), @r##"
    <div class="summary" role="alert" tabindex="-1">
    <h2>2 fields need another look</h2>
    <ul>
    <li><a href="#f-name">Name: &#34;&#60;i&#62;&#34; is odd.</a></li>
    <li><a href="#f-unit">Unit: not that one.</a></li>
    </ul>
    </div>
    <div class="field">
    <label for="f-name">Name <span class="optional">(optional)</span></label>
    <span class="input">
    <input id="f-name" name="name" type="text" value="
    &#60;i&#62;&#34;" inputmode="decimal" aria-describedby="h-name e-name" aria-invalid="true">
    <span class="unit">mm</span>
    </span>
    <p class="hint" id="h-name">As on the card.</p>
    <p class="error" id="e-name">Name: &#34;&#60;i&#62;&#34; is odd.</p>
    </div>
    <div class="field">
    <label for="f-note">Note</label>
    <textarea id="f-note" name="note" rows="4">
    &#60;i&#62;&#34;</textarea>
    </div>
    <div class="field">
    <label for="f-unit">Unit</label>
    <select id="f-unit" name="unit" aria-describedby="e-unit" aria-invalid="true">
    <option value="mm">millimetres</option>
    <option value="in" selected>inches</option>
    </select>
    <p class="error" id="e-unit">Unit: not that one.</p>
    </div>
    <div class="field field-check">
    <label><input id="f-grain" name="grain" type="checkbox" value="yes" checked> <span>Grain matters</span></label>
    </div>
    <div class="field">
    <label for="f-password">Password</label>
    <span class="input">
    <input id="f-password" name="password" type="password" value="" inputmode="text" autocomplete="current-password">
    </span>
    </div>
    <p class="actions"><button type="submit">Save</button></p>
    <span class="measure">5 <span class="frac"><sup>1</sup>/<sub>4</sub></span> in</span><span class="measure">
    &#60;i&#62;&#34;</span>
    "##);
}
