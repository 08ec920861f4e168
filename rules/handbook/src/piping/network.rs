//! Piping as a graph: the tree the gas takes from its source, what flows in each pipe, how far each place is.
//!
//! Everything walks lists, nothing calls itself: a graph drawn by a person can be of any depth and may hold loops. The
//! answers do not depend on the order in which pipes or nodes are listed, to the last bit.

use std::collections::VecDeque;

/// A pipe between two nodes, by their numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Link {
    /// Where it is drawn from.
    pub from: usize,
    /// Where it is drawn to.
    pub to: usize,
}

impl Link {
    fn other(&self, node: usize) -> usize {
        if self.from == node { self.to } else { self.from }
    }
}

/// How the gas spreads from a source.
#[derive(Clone, Debug)]
pub struct Network {
    links: Vec<Link>,
    /// Nodes in the order the gas reaches them, the source first.
    order: Vec<usize>,
    /// The pipe that feeds a node.
    feeder: Vec<Option<usize>>,
    /// The node a pipe feeds.
    fed: Vec<Option<usize>>,
    in_loop: Vec<bool>,
    reached: Vec<bool>,
}

impl Network {
    /// The network the links form among `nodes` nodes around `source`. Links that name no node are left out.
    pub fn around(source: usize, nodes: usize, links: &[Link]) -> Self {
        let mut at: Vec<Vec<usize>> = vec![Vec::new(); nodes];
        for (index, link) in links.iter().enumerate().filter(|(_, link)| link.from < nodes && link.to < nodes) {
            at[link.from].push(index);
            if link.to != link.from {
                at[link.to].push(index);
            }
        }
        let mut network = Self {
            links: links.to_vec(),
            order: Vec::new(),
            feeder: vec![None; nodes],
            fed: vec![None; links.len()],
            in_loop: vec![false; links.len()],
            reached: vec![false; nodes],
        };
        if source < nodes {
            let closing = network.spread(source, &at);
            closing.into_iter().for_each(|link| network.mark_loop(link, source));
        }
        network
    }

    /// Reaches every node it can; answers the links left over, each of which closes a loop.
    fn spread(&mut self, source: usize, at: &[Vec<usize>]) -> Vec<usize> {
        let mut waiting = VecDeque::from([source]);
        let mut closing = Vec::new();
        self.reached[source] = true;
        while let Some(node) = waiting.pop_front() {
            self.order.push(node);
            for &link in &at[node] {
                let next = self.links[link].other(node);
                if self.fed[link].is_some() || self.feeder[node] == Some(link) || self.in_loop[link] {
                    continue;
                }
                if self.reached[next] {
                    self.in_loop[link] = true;
                    closing.push(link);
                } else {
                    self.reached[next] = true;
                    self.feeder[next] = Some(link);
                    self.fed[link] = Some(next);
                    waiting.push_back(next);
                }
            }
        }
        closing
    }

    /// Marks the pipes of the tree that a closing link makes part of a loop: those on one way from the source to its ends
    /// and not on the other.
    fn mark_loop(&mut self, closing: usize, source: usize) {
        let Link { from, to } = self.links[closing];
        let (one, other) = (self.way(from, source), self.way(to, source));
        let shared = one.iter().zip(&other).take_while(|(a, b)| a == b).count();
        for link in one.into_iter().skip(shared).chain(other.into_iter().skip(shared)) {
            self.in_loop[link] = true;
        }
    }

    fn way(&self, node: usize, source: usize) -> Vec<usize> {
        let mut way = Vec::new();
        let mut at = node;
        while at != source {
            let Some(link) = self.feeder[at] else { break };
            way.push(link);
            at = self.links[link].other(at);
        }
        way.reverse();
        way
    }

    /// The pipes from the source to a node, in order; nothing where the node is not reached.
    pub fn path(&self, node: usize) -> Vec<usize> {
        match self.order.first() {
            Some(&source) if self.reached.get(node) == Some(&true) => self.way(node, source),
            _ => Vec::new(),
        }
    }

    /// Nodes in the order the gas reaches them.
    pub fn order(&self) -> &[usize] {
        &self.order
    }

    /// Whether gas reaches a node.
    pub fn reaches(&self, node: usize) -> bool {
        self.reached.get(node) == Some(&true)
    }

    /// Whether gas reaches a pipe.
    pub fn reaches_link(&self, link: usize) -> bool {
        self.links.get(link).is_some_and(|link| self.reaches(link.from) && self.reaches(link.to))
    }

    /// Whether a pipe is part of a loop: then what flows in it is not told by the loads alone.
    pub fn is_in_loop(&self, link: usize) -> bool {
        self.in_loop.get(link) == Some(&true)
    }

    /// Whether there is any loop.
    pub fn has_loop(&self) -> bool {
        self.in_loop.contains(&true)
    }

    /// The node a pipe feeds; none for a pipe that closes a loop or is not reached.
    pub fn fed_by(&self, link: usize) -> Option<usize> {
        self.fed.get(link).copied().flatten()
    }

    /// The pipe that feeds a node.
    pub fn feeder(&self, node: usize) -> Option<usize> {
        self.feeder.get(node).copied().flatten()
    }

    /// The node a pipe is fed from.
    pub fn source_of(&self, link: usize) -> Option<usize> {
        self.fed_by(link).map(|node| self.links[link].other(node))
    }

    /// Whether a pipe is drawn against the way the gas takes.
    pub fn is_against_flow(&self, link: usize) -> bool {
        self.fed_by(link).is_some_and(|node| self.links[link].from == node)
    }

    /// For every node, its own load and all loads behind it. The loads of branches are added in the order of their size, so
    /// that the sum is the same however the pipes are listed.
    pub fn sums(&self, own: &[f64]) -> Vec<f64> {
        let mut behind: Vec<Vec<f64>> = vec![Vec::new(); self.feeder.len()];
        let mut sums = vec![0.0; self.feeder.len()];
        for &node in self.order.iter().rev() {
            let mut parts = std::mem::take(&mut behind[node]);
            parts.push(own.get(node).copied().unwrap_or(0.0));
            parts.sort_by(f64::total_cmp);
            sums[node] = parts.iter().sum();
            if let Some(link) = self.feeder[node] {
                behind[self.links[link].other(node)].push(sums[node]);
            }
        }
        sums
    }

    /// For every node, the length of the way to it from the source or from the last node before it where a new zone begins.
    pub fn distances(&self, lengths: &[f64], begins: &[bool]) -> Vec<f64> {
        let mut far = vec![0.0; self.feeder.len()];
        for &node in &self.order {
            if let Some(link) = self.feeder[node] {
                let before = self.links[link].other(node);
                let start = if begins.get(before) == Some(&true) { 0.0 } else { far[before] };
                far[node] = start + lengths.get(link).copied().unwrap_or(0.0);
            }
        }
        far
    }

    /// For every node, the greatest of `value` among the ends behind it in its own zone, itself included where it is an end.
    /// A node where a new zone begins is an end of the zone before it, whatever stands behind it.
    pub fn farthest(&self, value: &[f64], is_end: &[bool], begins: &[bool]) -> Vec<Option<f64>> {
        let mut farthest: Vec<Option<f64>> = vec![None; self.feeder.len()];
        for &node in self.order.iter().rev() {
            let own = (is_end.get(node) == Some(&true) || begins.get(node) == Some(&true)).then(|| value[node]);
            if begins.get(node) == Some(&true) || farthest[node].is_none() {
                farthest[node] = own;
            } else if let (Some(own), Some(behind)) = (own, farthest[node]) {
                farthest[node] = Some(own.max(behind));
            }
            if let (Some(link), Some(here)) = (self.feeder[node], farthest[node]) {
                let before = self.links[link].other(node);
                farthest[before] = Some(farthest[before].map_or(here, |far| far.max(here)));
            }
        }
        farthest
    }

    /// For every node, the node at which its zone begins: the source, or the last before it where a new zone begins.
    pub fn zones(&self, begins: &[bool]) -> Vec<Option<usize>> {
        let mut zones = vec![None; self.feeder.len()];
        for &node in &self.order {
            zones[node] = match self.feeder[node].map(|link| self.links[link].other(node)) {
                None => Some(node),
                Some(before) if begins.get(before) == Some(&true) => Some(before),
                Some(before) => zones[before],
            };
        }
        zones
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn links(pairs: &[(usize, usize)]) -> Vec<Link> {
        pairs.iter().map(|&(from, to)| Link { from, to }).collect()
    }

    #[test]
    fn a_manifold_adds_up_and_measures_out() {
        // 0 - 1 - 2 - 3, with outlets 4 off 1, 5 off 2, 6 and 7 off 3; one pipe drawn backwards.
        let network = Network::around(0, 8, &links(&[(0, 1), (1, 2), (3, 2), (1, 4), (2, 5), (3, 6), (3, 7)]));
        assert!(!network.has_loop() && network.is_against_flow(2) && !network.is_against_flow(0));
        let sums = network.sums(&[0.0, 0.0, 0.0, 0.0, 199.0, 80.0, 65.0, 22.0]);
        assert_eq!((sums[0], sums[2], sums[3], sums[4]), (366.0, 167.0, 87.0, 199.0));
        let far = network.distances(&[20.0, 15.0, 15.0, 10.0, 8.0, 10.0, 5.0], &[false; 8]);
        assert_eq!((far[4], far[5], far[6], far[7]), (30.0, 43.0, 60.0, 55.0));
        let ends: Vec<bool> = (0..8).map(|node| node > 3).collect();
        let most = network.farthest(&far, &ends, &[false; 8]);
        assert_eq!((most[0], most[5], most[3]), (Some(60.0), Some(43.0), Some(60.0)));
        assert_eq!(network.path(6), [0, 1, 2, 5]);
    }

    #[test]
    fn a_loop_is_found_whole_and_nothing_else() {
        let network = Network::around(0, 6, &links(&[(0, 1), (1, 2), (2, 3), (3, 1), (3, 4)]));
        let looped: Vec<bool> = (0..5).map(|link| network.is_in_loop(link)).collect();
        assert_eq!(looped, [false, true, true, true, false]);
        assert!(!network.reaches(5) && network.reaches(4));
        let twice = Network::around(0, 2, &links(&[(0, 1), (1, 0), (1, 1)]));
        assert!((0..3).all(|link| twice.is_in_loop(link)));
        assert!(Network::around(3, 2, &links(&[(0, 9)])).order().is_empty());
    }

    #[test]
    fn a_zone_begins_anew_behind_its_regulator() {
        // 0 - 1 - 2(regulator) - 3 - 4; outlet 5 off 1.
        let network = Network::around(0, 6, &links(&[(0, 1), (1, 2), (2, 3), (3, 4), (1, 5)]));
        let begins = [false, false, true, false, false, false];
        let far = network.distances(&[50.0, 50.0, 10.0, 5.0, 20.0], &begins);
        assert_eq!((far[2], far[4], far[5]), (100.0, 15.0, 70.0));
        let ends = [false, false, false, false, true, true];
        let most = network.farthest(&far, &ends, &begins);
        assert_eq!((most[0], most[1], most[3]), (Some(100.0), Some(100.0), Some(15.0)));
        assert_eq!(network.zones(&begins), [Some(0), Some(0), Some(0), Some(2), Some(2), Some(0)]);
    }
}
