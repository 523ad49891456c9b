//! Running the built program.

use std::io::Write;
use std::process::{Command, Stdio};

use serde_json::{Value, json};
use tablefold_geometry::StructureKind;

/// What a run gave.
pub(crate) struct Run {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

pub(crate) fn run(arguments: &[&str], input: &[u8]) -> Run {
    let (code, out, err) = run_for_bytes(arguments, input);
    Run {
        code,
        out: String::from_utf8(out).unwrap(),
        err,
    }
}

fn run_for_bytes(arguments: &[&str], input: &[u8]) -> (Option<i32>, Vec<u8>, String) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_tablefold"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    let input = input.to_vec();
    // From a thread of its own: the program may stop reading or start writing first.
    let writing = std::thread::spawn(move || stdin.write_all(&input));
    let output = child.wait_with_output().unwrap();
    // A program that refuses early closes its end.
    let _ = writing.join().unwrap();
    let err = String::from_utf8(output.stderr).unwrap();
    (output.status.code(), output.stdout, err)
}

/// The answer to a request that has one.
pub(crate) fn answer(arguments: &[&str], request: &Value) -> String {
    let run = run(arguments, request.to_string().as_bytes());
    assert_eq!((run.code, run.err.as_str()), (Some(0), ""), "{request}");
    run.out
}

/// The answer to a request for a file that is no text.
pub(crate) fn file(arguments: &[&str], request: &Value) -> Vec<u8> {
    let (code, out, err) = run_for_bytes(arguments, request.to_string().as_bytes());
    assert_eq!((code, err.as_str()), (Some(0), ""), "{request}");
    out
}

/// The one line of a request that is refused.
pub(crate) fn complaint(arguments: &[&str], input: impl AsRef<[u8]>) -> String {
    let run = run(arguments, input.as_ref());
    assert_eq!((run.code, run.out.as_str()), (Some(2), ""));
    assert!(
        run.err.ends_with('\n') && run.err.lines().count() == 1,
        "{:?}",
        run.err
    );
    assert!(run.err.chars().count() < 500, "{:?}", run.err);
    run.err.trim_end().to_owned()
}

/// A round seed tin, from 12 x 12 in or A4, on a board with sixteenths.
pub(crate) fn tin() -> Value {
    json!({
        "contents": {"shape": "cylinder", "diameter": "2 1/2 in", "height": "1 3/4 in"},
        "structure": null,
        "clearance": "1/16 in",
        "caliper": 0.3,
        "board": {
            "notch_depth": "1/4 in", "step": "1/16 in", "shortest": "1/2 in", "longest": "8 in",
        },
        "trimmer": {"step": "1/16 in"},
        "sheets": [
            {"name": "12 x 12 in", "width": "12 in", "height": "12 in", "price": 0.45},
            {"name": "A4", "width": 210, "height": 297, "price": null},
        ],
        "makes": 14,
    })
}

/// A request for one structure, with contents that go into it.
pub(crate) fn asked(structure: &str) -> Value {
    let mut request = with(tin(), "/structure", json!(structure));
    request["score"] = json!({"step": "1/16 in", "longest": "12 in"});
    if ["envelope", "pouch", "card"].contains(&structure) {
        request["contents"] = json!({"shape": "block", "width": 60, "depth": 1, "height": 90});
    }
    if structure == "four-faced" {
        request["contents"] = json!({"shape": "block", "width": 20, "depth": 20, "height": 20});
    }
    request
}

/// Every body of every structure: the request for its pattern, and its blank as `size` writes it.
pub(crate) fn every_body() -> Vec<(Value, Value)> {
    let bodies = StructureKind::all().iter().flat_map(|kind| {
        let request = asked(kind.slug());
        let sized: Value = serde_json::from_str(&answer(&["size"], &request)).unwrap();
        let blanks = sized["answers"][0]["blanks"].as_array().unwrap().clone();
        blanks.into_iter().map(move |blank| {
            let mut one = request.clone();
            one["body"] = blank["body"].clone();
            (one, blank)
        })
    });
    bodies.collect()
}

/// The request with one value changed; the path is a JSON pointer.
pub(crate) fn with(mut request: Value, pointer: &str, value: Value) -> Value {
    *request
        .pointer_mut(pointer)
        .unwrap_or_else(|| panic!("{pointer}")) = value;
    request
}
