//! What folded faces reach, cover and enclose.

use super::reader::*;

pub(crate) fn bounds(faces: &[Vec<V>]) -> (V, V) {
    let all = || faces.iter().flatten();
    let low = [0, 1, 2].map(|i| all().map(|p| p[i]).fold(f64::INFINITY, f64::min));
    let high = [0, 1, 2].map(|i| all().map(|p| p[i]).fold(f64::NEG_INFINITY, f64::max));
    (low, high)
}

/// Area that at least one face covers, by slicing into fine strips along one axis: exact
/// for straight edges but for the strips in which edges cross.
pub(crate) fn covered(lying: &[&Vec<V>], axis: usize) -> f64 {
    let (i, j) = ((axis + 1) % 3, (axis + 2) % 3);
    let low = lying
        .iter()
        .flat_map(|f| f.iter())
        .map(|p| p[i])
        .fold(f64::INFINITY, f64::min);
    let high = lying
        .iter()
        .flat_map(|f| f.iter())
        .map(|p| p[i])
        .fold(f64::NEG_INFINITY, f64::max);
    let strips = 4000;
    let step = (high - low) / f64::from(strips);
    (0..strips)
        .map(|strip| {
            let x = low + (f64::from(strip) + 0.5) * step;
            let mut spans: Vec<(f64, f64)> =
                lying.iter().flat_map(|face| spans(face, i, j, x)).collect();
            spans.sort_by(|a, b| a.0.total_cmp(&b.0));
            let (mut sum, mut reached) = (0.0, f64::NEG_INFINITY);
            for (from, to) in spans {
                sum += (to - from.max(reached)).max(0.0);
                reached = reached.max(to);
            }
            sum * step
        })
        .sum()
}

/// Of a piece that lies flat: the paper that looks up and the paper that looks down each cover
/// all of it.
pub(crate) fn covers_its_flat_face(faces: &[Vec<V>], area: f64) {
    for up in [1.0, -1.0] {
        let looks = |face: &&Vec<V>| up * normal(face)[2] > 0.0;
        let lying: Vec<&Vec<V>> = faces.iter().filter(looks).collect();
        let got = covered(&lying, 2);
        assert!((got / area - 1.0).abs() < 1e-6, "{up} {got} of {area}");
    }
}

/// Twice the area of a face, along the direction that its inside looks in.
pub(crate) fn normal(face: &[V]) -> V {
    let from = face[0];
    let pairs = face.windows(2).map(|pair| [pair[0], pair[1]]);
    pairs.fold([0.0; 3], |sum, [p, q]| {
        add(sum, cross(sub(p, from), sub(q, from)), 1.0)
    })
}

/// Where a face is met by the line at x: in pairs, each from its outline to its outline.
pub(crate) fn spans(face: &[V], i: usize, j: usize, x: f64) -> Vec<(f64, f64)> {
    let mut hits = Vec::new();
    for k in 0..face.len() {
        let (p, q) = (face[k], face[(k + 1) % face.len()]);
        if (p[i] > x) != (q[i] > x) {
            hits.push(p[j] + (q[j] - p[j]) * (x - p[i]) / (q[i] - p[i]));
        }
    }
    hits.sort_by(f64::total_cmp);
    hits.chunks_exact(2)
        .map(|pair| (pair[0], pair[1]))
        .collect()
}

/// Area of a face that none of the faces lying in it covers, by slicing it into fine strips along
/// the first axis: exactly 0 where they cover it.
pub(crate) fn bare(face: &[V], lying: &[Vec<V>]) -> f64 {
    let across = || face.iter().map(|p| p[0]);
    let (low, high) = (
        across().fold(f64::INFINITY, f64::min),
        across().fold(f64::NEG_INFINITY, f64::max),
    );
    let strips = 1000;
    let step = (high - low) / f64::from(strips);
    let mut sum = 0.0;
    for strip in 0..strips {
        let x = low + (f64::from(strip) + 0.5) * step;
        let mut over: Vec<(f64, f64)> = lying.iter().flat_map(|it| spans(it, 0, 1, x)).collect();
        over.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (from, to) in spans(face, 0, 1, x) {
            let mut reached = from;
            for &(start, end) in &over {
                sum += (start.min(to) - reached).max(0.0) * step;
                reached = reached.max(end);
            }
            sum += (to - reached).max(0.0) * step;
        }
    }
    sum
}

/// What the faces of these names enclose, seen from a point: a third of the sum over their
/// triangles of p · (q × r) / 2 (divergence theorem); and their areas as one vector, which is zero
/// exactly when they leave no hole.
pub(crate) fn enclosed(file: &Read, faces: &[Vec<V>], names: &[&str], from: V) -> (f64, V) {
    let (mut volume, mut open) = (0.0, [0.0; 3]);
    for (face, name) in faces.iter().zip(&file.names) {
        if !names.contains(&name.as_str()) {
            continue;
        }
        for i in 1..face.len() - 1 {
            // Faces run counter-clockwise seen from inside.
            let [p, q, r] = [face[0], face[i + 1], face[i]].map(|p| sub(p, from));
            volume += dot(p, cross(q, r)) / 6.0;
            open = add(open, cross(sub(q, p), sub(r, p)), 0.5);
        }
    }
    (volume, open)
}
