//! `tablefold serve`: errors in one line, a clean end.

use std::io::{BufRead, BufReader, Read};
use std::net::TcpListener;
use std::process::{Child, Command, Stdio};

pub(crate) fn tablefold(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tablefold"));
    command.args(arguments).env_clear();
    command
}

/// Runs a command that must fail; gives its only line on standard error.
fn refusal(arguments: &[&str]) -> String {
    let output = tablefold(arguments).output().unwrap();
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    let text = String::from_utf8(output.stderr).unwrap();
    assert_eq!(text.lines().count(), 1, "{text}");
    text.trim_end().to_owned()
}

#[test]
fn each_wrong_option_says_what_would_do() {
    insta::assert_snapshot!(refusal(&["serve", "--listen", "127.0.0.1:99999"]), @r#"--listen: "127.0.0.1:99999" is not an address with a port. Type one like 127.0.0.1:8080 or 0.0.0.0:8080."#);
    insta::assert_snapshot!(refusal(&["serve", "--listen", "hall"]), @r#"--listen: "hall" is not an address with a port. Type one like 127.0.0.1:8080 or 0.0.0.0:8080."#);
    insta::assert_snapshot!(refusal(&["serve", "--base-url", "class.example"]), @r#"--base-url: "class.example" does not start with http:// or https://. Type the address that visitors use, like http://192.168.1.20:8080 or https://class.example."#);
    insta::assert_snapshot!(refusal(&["serve", "--listen", "127.0.0.1:0", "--data", "/dev/null/here"]), @r#"--data: "/dev/null/here" cannot be used: Not a directory (os error 20). Type a folder that you can write to."#);
    insta::assert_snapshot!(refusal(&["serve", "--port", "80"]), @"error: unexpected argument '--port' found. See: tablefold --help");
    insta::assert_snapshot!(refusal(&["bake"]), @"error: unrecognized subcommand 'bake'. See: tablefold --help");
}

#[test]
fn a_port_in_use_is_named() {
    let taken = TcpListener::bind("127.0.0.1:0").unwrap();
    let at = taken.local_addr().unwrap().to_string();
    let line = refusal(&["serve", "--demo", "--listen", &at]);
    assert_eq!(
        line,
        format!(
            "--listen: \"{at}\" is in use by another program. Type another port, like 127.0.0.1:8081."
        )
    );
}

#[test]
fn a_database_that_is_none_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().to_str().unwrap();
    std::fs::write(
        folder.path().join("tablefold.db"),
        "a shopping list, not a database",
    )
    .unwrap();
    let line = refusal(&["serve", "--listen", "127.0.0.1:0", "--data", data]);
    assert!(
        line.starts_with(&format!("--data: \"{data}\" cannot be used: ")),
        "{line}"
    );
    assert!(line.contains("file is not a database"), "{line}");
}

fn started(temporary: &str) -> (Child, Vec<String>) {
    let mut process = tablefold(&["serve", "--demo", "--listen", "127.0.0.1:0"])
        .env("TMPDIR", temporary)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut output = BufReader::new(process.stdout.take().unwrap());
    let mut lines = Vec::new();
    for _ in 0..3 {
        let mut line = String::new();
        output.read_line(&mut line).unwrap();
        lines.push(line);
    }
    (process, lines)
}

#[test]
fn the_demo_prints_its_link_and_leaves_nothing_behind() {
    let folder = tempfile::tempdir().unwrap();
    let (mut process, lines) = started(folder.path().to_str().unwrap());
    assert!(
        lines[0].starts_with("Tablefold is at http://127.0.0.1:"),
        "{lines:?}"
    );
    assert!(lines[1].contains("/welcome/"), "{lines:?}");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);

    let told = Command::new("kill")
        .arg(process.id().to_string())
        .status()
        .unwrap();
    assert!(told.success());
    let status = process.wait().unwrap();
    let mut log = String::new();
    process
        .stderr
        .take()
        .unwrap()
        .read_to_string(&mut log)
        .unwrap();
    assert!(status.success(), "{status}: {log}");
    assert_eq!(
        std::fs::read_dir(folder.path()).unwrap().count(),
        0,
        "{log}"
    );
}

#[test]
fn an_unknown_currency_is_refused_before_anything_starts() {
    let arguments = [
        "serve",
        "--demo",
        "--listen",
        "127.0.0.1:0",
        "--currency",
        "EURO",
    ];
    let output = tablefold(&arguments).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(
        said.contains("--currency: \"EURO\" is not a currency code in use"),
        "{said}"
    );
}

#[test]
fn help_lists_what_there_is() {
    let output = tablefold(&["--help"]).output().unwrap();
    assert!(output.status.success());
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(text.contains("serve"), "{text}");
}
