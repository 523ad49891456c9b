//! A browser steered by keys alone, as someone does who has no pointer.

use serde_json::{Value, json};

use crate::browser::Browser;

/// More stops than any page has.
const MOST_TABS: usize = 300;

/// A key by its name, its code on the key board, and Windows' number for it, which Chromium goes by.
type Key = (&'static str, &'static str, u32);
const ENTER: Key = ("Enter", "Enter", 13);
const SPACE: Key = (" ", "Space", 32);
const UP: Key = ("ArrowUp", "ArrowUp", 38);
const DOWN: Key = ("ArrowDown", "ArrowDown", 40);

impl Browser {
    async fn key(&self, (key, code, number): Key) {
        // What the key writes, where it writes something.
        let text = match key {
            "Enter" => "\r",
            " " => " ",
            _ => "",
        };
        let down = if text.is_empty() {
            "rawKeyDown"
        } else {
            "keyDown"
        };
        for kind in [down, "keyUp"] {
            let mut event = json!({
                "type": kind, "key": key, "code": code, "windowsVirtualKeyCode": number
            });
            if kind == "keyDown" {
                event["text"] = text.into();
            }
            self.send("Input.dispatchKeyEvent", event).await;
        }
    }

    /// Goes on so many stops.
    pub(crate) async fn tab(&self, times: usize) {
        let keys = String::from(char::from(thirtyfour::Key::Tab)).repeat(times);
        let tabs = self.driver.action_chain().send_keys(keys);
        tabs.perform().await.unwrap();
    }

    /// Ctrl and a letter: `selectAll`, `copy` and `paste` as they are bound to keys.
    pub(crate) async fn command(&self, command: &str) {
        let event = json!({"type": "rawKeyDown", "key": "Unidentified", "commands": [command]});
        self.send("Input.dispatchKeyEvent", event).await;
    }

    /// Goes on with Tab until the focus is where `is_there` says of the element `e`.
    async fn tab_to(&self, is_there: &str) {
        let there = format!("const e = document.activeElement; return !!e && ({is_there})");
        for _ in 0..MOST_TABS {
            if self.run(&there).await == true {
                return;
            }
            self.tab(1).await;
        }
        panic!("no key leads to where {is_there}: {}", self.text().await);
    }

    /// Puts a value into the field of that name.
    pub(crate) async fn enter_by_keys(&self, name: &str, value: &str) {
        let name = json!(name);
        let field = format!("document.querySelector('main [name=' + JSON.stringify({name}) + ']')");
        // What it is folded away in, from the outside.
        let folded = format!("return !{field}.checkVisibility()");
        while self.run(&folded).await == true {
            self.tab_to(&format!(
                "e.matches('details:not([open]) > summary') && e.parentElement.contains({field})"
            ))
            .await;
            self.key(ENTER).await;
        }
        self.tab_to(&format!("e === {field}")).await;
        let kind = self.run(&format!("return {field}.type")).await;
        match kind.as_str().unwrap() {
            "select-one" => self.choose(&field, value).await,
            "checkbox" => self.key(SPACE).await,
            // As Chromium in English takes them: month, day and year; hour, minute, morning.
            "date" => {
                self.type_keys(&[&value[5..7], &value[8..], &value[..4]].concat())
                    .await
            }
            "time" => {
                self.type_keys(&format!("{}AM", value.replace(':', "")))
                    .await
            }
            _ => {
                self.command("selectAll").await;
                self.send("Input.insertText", json!({"text": value})).await;
            }
        }
        let holds = format!(
            "const e = {field}; return e.type === 'checkbox' ? e.checked && 'on' : e.value"
        );
        let holds = self.run(&holds).await;
        let is_list = kind == "select-one";
        assert!(
            is_list || holds == value,
            "{name} holds {holds}, not {value}"
        );
    }

    async fn type_keys(&self, text: &str) {
        for letter in text.chars() {
            let letter = letter.to_string();
            let event = json!({"type": "keyDown", "text": letter, "key": letter});
            self.send("Input.dispatchKeyEvent", event).await;
        }
    }

    /// Goes up or down a list to the entry that has or begins with `value`.
    async fn choose(&self, list: &str, value: &str) {
        let value = json!(value);
        let away = format!(
            "const e = {list}; const to = [...e.options].findIndex((o) => o.value === {value} || o.text.startsWith({value})); \
             return to < 0 ? null : to - e.selectedIndex"
        );
        let steps = self.run(&away).await;
        let steps = steps
            .as_i64()
            .unwrap_or_else(|| panic!("no {value} in {list}"));
        for _ in 0..steps.abs() {
            self.key(if steps < 0 { UP } else { DOWN }).await;
        }
        assert_eq!(self.run(&away).await, Value::from(0), "{value} in {list}");
    }

    /// Follows the link or presses the button that says so, and waits for the page behind it.
    pub(crate) async fn go_by_keys(&self, label: &str) {
        let label = json!(label);
        self.tab_to(&format!(
            "e.matches('a, button') && e.textContent.trim() === {label}"
        ))
        .await;
        self.mark_old().await;
        self.key(ENTER).await;
        self.wait_for_new(&format!("Enter on {label}")).await;
    }
}
