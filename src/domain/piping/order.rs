//! An order of the nodes in which those that lie near one another in the piping stand together, so that diagrams
//! stay small.

use std::collections::VecDeque;

use super::network::{Network, Want};

impl Network {
    /// Every node once: outward from the first node that the first demand names, then from the first of those left.
    pub(super) fn in_order_of_flow(&self) -> Vec<usize> {
        let mut beside = vec![Vec::new(); self.nodes.len()];
        for pipe in &self.pipes {
            beside[pipe.from].push(pipe.to);
            beside[pipe.to].push(pipe.from);
        }
        let first = self.demands.first().and_then(|demand| match &demand.want {
            Want::Flow(nodes) => nodes.first().copied(),
            Want::Never([from, _]) => Some(*from),
        });
        let mut is_known = vec![false; self.nodes.len()];
        let mut order = Vec::with_capacity(self.nodes.len());
        for start in first.into_iter().chain(0..self.nodes.len()) {
            let mut open = VecDeque::from([start]);
            while let Some(node) = open.pop_front() {
                if !std::mem::replace(&mut is_known[node], true) {
                    order.push(node);
                    open.extend(&beside[node]);
                }
            }
        }
        order
    }
}
