//! An order of the nodes in which those that lie near one another in the piping stand together, so that diagrams
//! stay small.

use super::network::{Network, Want};

impl Network {
    /// Every node once, each in turn so that as few as can be of those before it have neighbours after it; of equals,
    /// the one that was come to first. Begins at the first node that the first demand names. Ends do not count: no
    /// flow goes through them.
    pub(super) fn in_order_of_flow(&self) -> Vec<usize> {
        let mut beside = vec![Vec::new(); self.nodes.len()];
        for pipe in &self.pipes {
            for (node, other) in [(pipe.from, pipe.to), (pipe.to, pipe.from)] {
                if !beside[node].contains(&other) {
                    beside[node].push(other);
                }
            }
        }
        let first = self.demands.first().and_then(|demand| match &demand.want {
            Want::Flow(nodes) => nodes.first().copied(),
            Want::Never([from, _]) => Some(*from),
        });
        let is_end = |node: usize| self.nodes[node].kind.is_end();
        let mut is_placed = vec![false; self.nodes.len()];
        let mut order = Vec::with_capacity(self.nodes.len());
        let mut come_to: Vec<usize> = first.into_iter().collect();
        let mut rest = 0..self.nodes.len();
        loop {
            // Neighbours that are still to be placed.
            let left =
                |node: usize| beside[node].iter().filter(|other| !is_placed[**other] && !is_end(**other)).count();
            let growth = |node: usize| {
                let opens = usize::from(left(node) > 0 && !is_end(node));
                let is_last = |other: &&usize| is_placed[**other] && !is_end(**other) && left(**other) == 1;
                let closes = if is_end(node) { 0 } else { beside[node].iter().filter(is_last).count() };
                opens as isize - closes as isize
            };
            let next = come_to.iter().copied().enumerate().min_by_key(|(age, node)| (growth(*node), *age));
            let node = match next {
                Some((age, node)) => {
                    come_to.remove(age);
                    node
                }
                None => match rest.find(|node| !is_placed[*node]) {
                    Some(node) => node,
                    None => return order,
                },
            };
            is_placed[node] = true;
            order.push(node);
            for other in &beside[node] {
                if !is_placed[*other] && !come_to.contains(other) {
                    come_to.push(*other);
                }
            }
        }
    }
}
