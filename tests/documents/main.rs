//! What the documents say is so.

use std::path::Path;

/// Words in backticks of DEVELOPERS.md that are paths of the repository.
fn paths(text: &str) -> Vec<&str> {
    let in_backticks = text.split('`').skip(1).step_by(2);
    let is_path = |word: &&str| {
        let first = word.split('/').next().unwrap_or("");
        let folders = ["src", "templates", "static", "migrations", "tests", ".ci"];
        folders.contains(&first) && !word.contains(' ')
    };
    in_backticks.filter(is_path).collect()
}

#[test]
fn each_path_that_the_guide_names_exists() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let guide = std::fs::read_to_string(root.join("DEVELOPERS.md")).expect("the guide");
    let named = paths(&guide);
    assert!(
        named.len() > 40,
        "the guide names only {} paths",
        named.len()
    );
    for path in named {
        assert!(
            root.join(path).exists(),
            "DEVELOPERS.md names {path}, which is not there"
        );
    }
}

/// CI runs the command of the README, and the guide lists what that command runs.
#[test]
fn the_readme_the_guide_and_ci_name_the_same_commands() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let read =
        |path: &str| std::fs::read_to_string(root.join(path)).expect("a file of the repository");
    assert!(read("README.md").contains("    bash tests/all.sh\n"));
    assert!(read(".ci/run").contains("bash tests/all.sh"));
    let (guide, script) = (read("DEVELOPERS.md"), read("tests/all.sh"));
    let commands = script
        .lines()
        .filter(|line| line.starts_with("cargo ") || line.contains(" cargo doc"));
    let mut count = 0;
    for command in commands {
        assert!(
            guide.contains(command.trim()),
            "the guide does not list {command}"
        );
        count += 1;
    }
    assert_eq!(count, 4, "fmt, clippy, test, doc");
}

#[test]
fn the_top_level_holds_nothing_else() {
    let allowed = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "src",
        "templates",
        "static",
        "migrations",
        "tests",
    ];
    let listed = std::process::Command::new("git")
        .args(["ls-files", "-z"])
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .expect("git lists the files");
    let listed = String::from_utf8(listed.stdout).expect("names in UTF-8");
    for file in listed.split('\0').filter(|file| !file.is_empty()) {
        let first = file.split('/').next().unwrap_or(file);
        assert!(
            first.starts_with('.') || allowed.contains(&first),
            "{file} lies at the top level"
        );
    }
}
