//! Random piping of 400 pipes: what flows in is what flows out, and nothing depends on the order of the lists.

use proptest::prelude::*;
use proptest::sample::Index;
use redtag_handbook::piping::{Link, Network};

const NODES: usize = 401;

/// A tree: for every node but the first the one it hangs on, what it draws, how long its pipe is, whether it is drawn backwards.
fn trees() -> impl Strategy<Value = Vec<(Index, f64, f64, bool)>> {
    proptest::collection::vec((any::<Index>(), 0.0..250_000.0, 0.1..60.0, any::<bool>()), NODES - 1)
}

fn links(tree: &[(Index, f64, f64, bool)]) -> Vec<Link> {
    let link = |(below, (on, _, _, backwards)): (usize, &(Index, f64, f64, bool))| {
        let (node, on) = (below + 1, on.index(below + 1));
        if *backwards { Link { from: node, to: on } } else { Link { from: on, to: node } }
    };
    tree.iter().enumerate().map(link).collect()
}

/// A permutation that a seed gives.
fn shuffled(count: usize, keys: &[u32]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by_key(|&number| {
        (keys[number % keys.len()].wrapping_mul(2_654_435_761).wrapping_add(number as u32 * 40_503), number)
    });
    order
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    // Demand is conserved: what a node lets through is what it draws and what its branches draw, and the source gives all.
    #[test]
    fn what_flows_in_flows_out(tree in trees()) {
        let links = links(&tree);
        let network = Network::around(0, NODES, &links);
        prop_assert!(!network.has_loop() && (0..NODES).all(|node| network.reaches(node)));
        let own: Vec<f64> = std::iter::once(0.0).chain(tree.iter().map(|(_, load, ..)| *load)).collect();
        let sums = network.sums(&own);
        let total: f64 = own.iter().sum();
        prop_assert!((sums[0] - total).abs() <= 1e-9 * total);
        for node in 0..NODES {
            let out: f64 = (0..links.len()).filter(|link| network.source_of(*link) == Some(node)).map(|link| sums[network.fed_by(link).unwrap()]).sum();
            prop_assert!((sums[node] - own[node] - out).abs() <= 1e-9 * total, "node {node}");
        }
    }

    // To the last bit the same, whatever the order of pipes and however nodes are numbered.
    #[test]
    fn order_changes_nothing(tree in trees(), pipe_keys in proptest::collection::vec(any::<u32>(), 400), node_keys in proptest::collection::vec(any::<u32>(), 400)) {
        let before = links(&tree);
        let pipes = shuffled(before.len(), &pipe_keys);
        let new_number = shuffled(NODES, &node_keys);
        let moved: Vec<Link> =
            pipes.iter().map(|&pipe| Link { from: new_number[before[pipe].from], to: new_number[before[pipe].to] }).collect();
        let (one, other) = (Network::around(0, NODES, &before), Network::around(new_number[0], NODES, &moved));
        let own: Vec<f64> = std::iter::once(0.0).chain(tree.iter().map(|(_, load, ..)| *load)).collect();
        let lengths: Vec<f64> = tree.iter().map(|(_, _, length, _)| *length).collect();
        let mut own_moved = vec![0.0; NODES];
        (0..NODES).for_each(|node| own_moved[new_number[node]] = own[node]);
        let lengths_moved: Vec<f64> = pipes.iter().map(|&pipe| lengths[pipe]).collect();
        let none = vec![false; NODES];
        let (sums, sums_moved) = (one.sums(&own), other.sums(&own_moved));
        let (far, far_moved) = (one.distances(&lengths, &none), other.distances(&lengths_moved, &none));
        for node in 0..NODES {
            prop_assert_eq!(sums[node].to_bits(), sums_moved[new_number[node]].to_bits());
            prop_assert_eq!(far[node].to_bits(), far_moved[new_number[node]].to_bits());
        }
    }

    // One pipe more always closes exactly one loop, and the pipes it takes in are those between its ends.
    #[test]
    fn one_pipe_too_many_is_found(tree in trees(), ends in (0..NODES, 0..NODES)) {
        let mut links = links(&tree);
        links.push(Link { from: ends.0, to: ends.1 });
        let network = Network::around(0, NODES, &links);
        prop_assert!(network.has_loop());
        let looped = (0..links.len()).filter(|link| network.is_in_loop(*link)).count();
        let whole = Network::around(0, NODES, &links[..NODES - 1]);
        let (one, other) = (whole.path(ends.0), whole.path(ends.1));
        let shared = one.iter().filter(|link| other.contains(link)).count();
        prop_assert_eq!(looped, one.len() + other.len() - 2 * shared + 1);
    }
}

// Nothing calls itself, so no depth is too deep: a line of 200,000 pipes.
#[test]
fn a_very_long_line_is_followed() {
    let count = 200_000;
    let links: Vec<Link> = (0..count).map(|node| Link { from: node, to: node + 1 }).collect();
    let network = Network::around(0, count + 1, &links);
    let mut own = vec![0.0; count + 1];
    own[count] = 40_000.0;
    assert_eq!((network.sums(&own)[0], network.path(count).len()), (40_000.0, count));
}
