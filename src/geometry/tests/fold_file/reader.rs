//! Reads a FOLD file and folds it about its edges.

use std::collections::VecDeque;

use serde_json::Value;

pub(crate) type V = [f64; 3];

pub(crate) struct Read {
    pub(crate) coords: Vec<V>,
    pub(crate) edges: Vec<[usize; 2]>,
    pub(crate) assignment: Vec<String>,
    pub(crate) angle: Vec<f64>,
    pub(crate) faces: Vec<Vec<usize>>,
    pub(crate) names: Vec<String>,
}

pub(crate) fn read(text: &str) -> Read {
    let json: Value = serde_json::from_str(text).unwrap();
    assert_eq!(json["file_spec"], 1.2);
    assert_eq!(json["frame_unit"], "mm");
    let list = |key: &str| json[key].as_array().unwrap().clone();
    let index = |v: &Value| v.as_u64().unwrap() as usize;
    let coord = |v: &Value| [v[0].as_f64().unwrap(), v[1].as_f64().unwrap(), 0.0];
    let face = |v: &Value| v.as_array().unwrap().iter().map(index).collect();
    Read {
        coords: list("vertices_coords").iter().map(coord).collect(),
        edges: list("edges_vertices")
            .iter()
            .map(|e| [index(&e[0]), index(&e[1])])
            .collect(),
        assignment: list("edges_assignment")
            .iter()
            .map(|a| a.as_str().unwrap().to_owned())
            .collect(),
        angle: list("edges_foldAngle")
            .iter()
            .map(|a| a.as_f64().unwrap())
            .collect(),
        faces: list("faces_vertices").iter().map(face).collect(),
        names: list("faces_tablefold:name")
            .iter()
            .map(|name| name.as_str().unwrap().to_owned())
            .collect(),
    }
}

pub(crate) fn sub(a: V, b: V) -> V {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(crate) fn add(a: V, b: V, times: f64) -> V {
    [
        a[0] + b[0] * times,
        a[1] + b[1] * times,
        a[2] + b[2] * times,
    ]
}

pub(crate) fn dot(a: V, b: V) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(crate) fn cross(a: V, b: V) -> V {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

/// Rodrigues: p turned by `degrees` about the line through `at` along `axis`.
pub(crate) fn rotate(p: V, at: V, axis: V, degrees: f64) -> V {
    let length = dot(axis, axis).sqrt();
    let k = axis.map(|c| c / length);
    let (sin, cos) = degrees.to_radians().sin_cos();
    let r = sub(p, at);
    let turned = add(
        add(r.map(|c| c * cos), cross(k, r), sin),
        k,
        dot(k, r) * (1.0 - cos),
    );
    add(at, turned, 1.0)
}

impl Read {
    /// The two faces of each edge, the one that runs along it (on its left) first.
    pub(crate) fn faces_of(&self, edge: usize) -> (Option<usize>, Option<usize>) {
        let [u, v] = self.edges[edge];
        let runs = |from, to| {
            self.faces.iter().position(|face| {
                (0..face.len()).any(|i| face[i] == from && face[(i + 1) % face.len()] == to)
            })
        };
        (runs(u, v), runs(v, u))
    }

    /// Folds from face 0: the corners of every face in space.
    pub(crate) fn fold(&self) -> Vec<Vec<V>> {
        self.fold_from(0)
    }

    /// Folds from a face that stays where it is. Each face keeps a map as the list of turns about
    /// edges *in space* that led to it.
    pub(crate) fn fold_from(&self, root: usize) -> Vec<Vec<V>> {
        let flat =
            |face: usize| -> Vec<V> { self.faces[face].iter().map(|&v| self.coords[v]).collect() };
        let mut turns: Vec<Option<Vec<(V, V, f64)>>> = vec![None; self.faces.len()];
        turns[root] = Some(Vec::new());
        let mut queue = VecDeque::from([root]);
        while let Some(face) = queue.pop_front() {
            let so_far = turns[face].clone().unwrap();
            let place = |p: V| {
                so_far
                    .iter()
                    .fold(p, |p, &(at, axis, deg)| rotate(p, at, axis, deg))
            };
            for edge in 0..self.edges.len() {
                if !["M", "V", "F"].contains(&self.assignment[edge].as_str()) {
                    continue;
                }
                let (left, right) = self.faces_of(edge);
                let (left, right) = (left.unwrap(), right.unwrap());
                let [u, v] = self.edges[edge].map(|i| place(self.coords[i]));
                // Looking along the edge, a valley lifts the face on the right by turning it
                // against the right-hand rule, and the face on the left with it.
                let (next, degrees) = if face == left {
                    (right, -self.angle[edge])
                } else if face == right {
                    (left, self.angle[edge])
                } else {
                    continue;
                };
                if turns[next].is_none() {
                    let mut path = so_far.clone();
                    path.push((u, sub(v, u), degrees));
                    turns[next] = Some(path);
                    queue.push_back(next);
                }
            }
        }
        (0..self.faces.len())
            .map(|face| {
                let path = turns[face].clone().expect("every face hangs on a crease");
                let place = |p: V| {
                    path.iter()
                        .fold(p, |p, &(at, axis, deg)| rotate(p, at, axis, deg))
                };
                flat(face).into_iter().map(place).collect()
            })
            .collect()
    }

    pub(crate) fn area(&self, face: usize) -> f64 {
        let ring = &self.faces[face];
        (0..ring.len())
            .map(|i| {
                let (p, q) = (
                    self.coords[ring[i]],
                    self.coords[ring[(i + 1) % ring.len()]],
                );
                (p[0] * q[1] - p[1] * q[0]) / 2.0
            })
            .sum()
    }
}
