//! Plane geometry of floors: places, rings, triangles.

/// Width of the upright side of a recess, as it is drawn: 1/8 in.
const SIDE: f64 = 0.003_175;

/// Plan area of a triangle.
pub(super) fn plan_area(t: &[[f64; 3]; 3]) -> f64 {
    ((t[1][0] - t[0][0]) * (t[2][1] - t[0][1]) - (t[2][0] - t[0][0]) * (t[1][1] - t[0][1])).abs() / 2.0
}

/// The shares of a triangle's corners in a place; `None` outside it.
pub(super) fn shares(t: &[[f64; 3]; 3], at: [f64; 2]) -> Option<[f64; 3]> {
    let cross = |a: [f64; 3], b: [f64; 3]| (b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0]);
    let parts = [cross(t[1], t[2]), cross(t[2], t[0]), cross(t[0], t[1])];
    let whole: f64 = parts.iter().sum();
    let within = whole != 0.0 && parts.iter().all(|part| part / whole >= -1e-9);
    within.then(|| parts.map(|part| part / whole))
}

/// Puts places into a ring where they lie within their reach of one of its edges.
pub(super) fn weave(ring: &mut Vec<[f64; 2]>, places: &[([f64; 2], f64)]) {
    let mut woven = Vec::with_capacity(ring.len() + places.len());
    let mut rest: Vec<_> = places.to_vec();
    for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        woven.push(*a);
        let mut along: Vec<(f64, [f64; 2])> = Vec::new();
        rest.retain(|(at, reach)| {
            let (share, off) = beside(*a, *b, *at);
            let on = share > 0.0 && share < 1.0 && off <= if reach.is_infinite() { 1e-6 } else { *reach };
            if on {
                along.push((share, *at));
            }
            !on
        });
        along.sort_by(|x, y| x.0.total_cmp(&y.0));
        woven.extend(along.into_iter().map(|(_, at)| at));
    }
    woven.dedup();
    *ring = woven;
}

/// How far along an edge a place is, as a share of it, and how far beside it.
pub(super) fn beside(a: [f64; 2], b: [f64; 2], at: [f64; 2]) -> (f64, f64) {
    let (along, off) = ([b[0] - a[0], b[1] - a[1]], [at[0] - a[0], at[1] - a[1]]);
    let length = along[0] * along[0] + along[1] * along[1];
    if length == 0.0 {
        return (0.0, gap(a, at).sqrt());
    }
    let share = (off[0] * along[0] + off[1] * along[1]) / length;
    let held = share.clamp(0.0, 1.0);
    (share, gap([a[0] + along[0] * held, a[1] + along[1] * held], at).sqrt())
}

/// The nearest place on a ring.
pub(super) fn on_ring(ring: &[[f64; 2]], at: [f64; 2]) -> [f64; 2] {
    let edges = ring.iter().zip(ring.iter().cycle().skip(1));
    let nearest = edges.min_by(|x, y| beside(*x.0, *x.1, at).1.total_cmp(&beside(*y.0, *y.1, at).1));
    nearest.map_or(at, |(a, b)| {
        let share = beside(*a, *b, at).0.clamp(0.0, 1.0);
        [round(a[0] + (b[0] - a[0]) * share), round(a[1] + (b[1] - a[1]) * share)]
    })
}

/// A ring drawn in by the width of an upright side.
pub(super) fn inset(ring: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let count = ring.len();
    let turn = if redtag_plan::signed_area(ring) >= 0.0 { 1.0 } else { -1.0 };
    (0..count)
        .map(|index| {
            let (before, here, after) = (ring[(index + count - 1) % count], ring[index], ring[(index + 1) % count]);
            let (n1, n2) = (normal(before, here, turn), normal(here, after, turn));
            let blend = 1.0 + n1[0] * n2[0] + n1[1] * n2[1];
            let scale = SIDE / blend.max(0.2);
            [here[0] + (n1[0] + n2[0]) * scale, here[1] + (n1[1] + n2[1]) * scale]
        })
        .collect()
}

pub(super) fn normal(a: [f64; 2], b: [f64; 2], turn: f64) -> [f64; 2] {
    let length = gap(a, b).sqrt();
    if length == 0.0 { [0.0; 2] } else { [-(b[1] - a[1]) / length * turn, (b[0] - a[0]) / length * turn] }
}

/// The convex hull, counter-clockwise.
pub(super) fn hull(points: &[[f64; 3]]) -> Vec<[f64; 2]> {
    let half = |points: &mut dyn Iterator<Item = &[f64; 3]>| {
        let mut chain: Vec<[f64; 2]> = Vec::new();
        for p in points {
            while let [.., a, b] = chain[..] {
                if (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push([p[0], p[1]]);
        }
        chain.pop();
        chain
    };
    let mut ring = half(&mut points.iter());
    ring.extend(half(&mut points.iter().rev()));
    ring
}

/// Points sorted, several at one place made their mean.
pub(super) fn merged(mut points: Vec<[f64; 3]>) -> Vec<[f64; 3]> {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])).then(a[2].total_cmp(&b[2])));
    let same = |a: &[f64; 3], b: &[f64; 3]| a[0] == b[0] && a[1] == b[1];
    points.chunk_by(same).map(|all| [all[0][0], all[0][1], all.iter().map(|p| p[2]).sum::<f64>() / all.len() as f64]).collect()
}

pub(super) fn clean(ring: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut ring: Vec<_> =
        ring.iter().filter(|at| at.iter().all(|c| c.is_finite())).map(|at| [round(at[0]), round(at[1])]).collect();
    ring.dedup();
    ring
}

pub(super) fn order(a: &[[f64; 2]], b: &[[f64; 2]]) -> std::cmp::Ordering {
    a.iter().flatten().partial_cmp(b.iter().flatten()).unwrap_or(std::cmp::Ordering::Equal)
}

pub(super) fn middle(at: [[f64; 2]; 3]) -> [f64; 2] {
    [(at[0][0] + at[1][0] + at[2][0]) / 3.0, (at[0][1] + at[1][1] + at[2][1]) / 3.0]
}

/// To a tenth of a micrometre, so that no two corners are almost one. Adding zero makes -0 into 0.
pub(super) fn round(coordinate: f64) -> f64 {
    (coordinate * 1e7).round() / 1e7 + 0.0
}

pub(super) fn rounded(p: [f64; 3]) -> [f64; 3] {
    [round(p[0]), round(p[1]), p[2]]
}

pub(super) fn gap(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1])
}

pub(super) fn far(p: [f64; 3], at: [f64; 2]) -> f64 {
    gap([p[0], p[1]], at)
}

/// Where two edges meet, as shares of both; `None` where they do not, where they only share an end, and where they run side by
/// side.
pub(super) fn crossing([p, q]: [[f64; 2]; 2], [r, s]: [[f64; 2]; 2]) -> Option<(f64, f64)> {
    let (along, other, off) = ([q[0] - p[0], q[1] - p[1]], [s[0] - r[0], s[1] - r[1]], [r[0] - p[0], r[1] - p[1]]);
    let turn = along[0] * other[1] - along[1] * other[0];
    if turn.abs() < 1e-14 {
        return None;
    }
    let first = (off[0] * other[1] - off[1] * other[0]) / turn;
    let second = (off[0] * along[1] - off[1] * along[0]) / turn;
    let within = |share: f64| (-1e-9..=1.0 + 1e-9).contains(&share);
    (within(first) && within(second)).then_some((first.clamp(0.0, 1.0), second.clamp(0.0, 1.0)))
}
