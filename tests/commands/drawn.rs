//! Reads back the lines of a PDF page with a library that shares no code with the writer.

use lopdf::content::Content;
use lopdf::{Document, Object};

/// The lines of one page, in mm from its left top corner.
pub(crate) struct Drawn {
    /// Media box, points.
    pub(crate) page: [f32; 4],
    /// Stroked paths: width of the stroke, whether it is dashed, its corners.
    pub(crate) paths: Vec<Path>,
}

pub(crate) struct Path {
    pub(crate) width: f64,
    pub(crate) dashed: bool,
    pub(crate) corners: Vec<(f64, f64)>,
}

impl Path {
    /// From the least to the greatest corner along x and along y.
    pub(crate) fn extent(&self) -> (f64, f64) {
        extent(&self.corners)
    }
}

/// Width and height of what some points take up.
pub(crate) fn extent(corners: &[(f64, f64)]) -> (f64, f64) {
    let span = |values: Vec<f64>| {
        values.iter().copied().fold(f64::MIN, f64::max)
            - values.iter().copied().fold(f64::MAX, f64::min)
    };
    (
        span(corners.iter().map(|p| p.0).collect()),
        span(corners.iter().map(|p| p.1).collect()),
    )
}

/// Every page of a document.
pub(crate) fn pages(pdf: &[u8]) -> Vec<Drawn> {
    let document = Document::load_mem(pdf).unwrap();
    let pages = document.get_pages();
    let read = |&id: &lopdf::ObjectId| {
        let dictionary = document.get_dictionary(id).unwrap();
        let sides = dictionary.get(b"MediaBox").unwrap().as_array().unwrap();
        let page = [0, 1, 2, 3].map(|n| sides[n].as_float().unwrap());
        let content = Content::decode(&document.get_page_content(id)).unwrap();
        Drawn {
            page,
            paths: paths(&content, f64::from(page[3])),
        }
    };
    pages.values().map(read).collect()
}

/// Matrix, stroke width and dash, as q and Q keep them.
#[derive(Clone)]
struct State {
    matrix: [f64; 6],
    width: f64,
    dashed: bool,
}

/// Follows the operators of ISO 32000-2, 8.4.4 and 8.5.2.
fn paths(content: &Content, page_height: f64) -> Vec<Path> {
    let mut states = vec![State {
        matrix: [1.0, 0.0, 0.0, 1.0, 0.0, 0.0],
        width: 1.0,
        dashed: false,
    }];
    let (mut found, mut corners) = (Vec::new(), Vec::new());
    for operation in &content.operations {
        let number = |n: usize| f64::from(operation.operands[n].as_float().unwrap());
        let state = states.last_mut().unwrap();
        match operation.operator.as_str() {
            "q" => {
                let copy = state.clone();
                states.push(copy);
            }
            "Q" => drop(states.pop()),
            "cm" => state.matrix = after([0, 1, 2, 3, 4, 5].map(number), state.matrix),
            "w" => state.width = number(0),
            "d" => {
                state.dashed = !matches!(&operation.operands[0], Object::Array(it) if it.is_empty())
            }
            "m" | "l" => {
                let [a, b, c, d, e, f] = state.matrix;
                let (x, y) = (number(0), number(1));
                let (x, y) = (a * x + c * y + e, b * x + d * y + f);
                corners.push((x * 25.4 / 72.0, (page_height - y) * 25.4 / 72.0));
            }
            "S" | "s" => found.push(Path {
                width: state.width * 25.4 / 72.0,
                dashed: state.dashed,
                corners: std::mem::take(&mut corners),
            }),
            "n" | "f" | "f*" => corners.clear(),
            _ => {}
        }
    }
    found
}

/// One matrix, then the other (8.3.3).
fn after(first: [f64; 6], then: [f64; 6]) -> [f64; 6] {
    let [a, b, c, d, e, f] = first;
    let [p, q, r, s, t, u] = then;
    [
        a * p + b * r,
        a * q + b * s,
        c * p + d * r,
        c * q + d * s,
        e * p + f * r + t,
        e * q + f * s + u,
    ]
}
