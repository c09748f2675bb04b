//! One function of a decision diagram by itself: how many ways there are to make it true, and the cheapest of them.

/// Tests of variables, those below before those above. Places 0 and 1 are never and always.
pub(super) struct Chart {
    /// The variable, and the places to go on at when it is false and when it is true. The test in place n + 2 stands
    /// at n.
    tests: Vec<(usize, usize, usize)>,
    top: usize,
}

/// What a value of a variable costs; none where it may not have that value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Price {
    pub(super) no: Option<u32>,
    pub(super) yes: Option<u32>,
}

impl Price {
    /// Either value for nothing.
    pub(super) const FREE: Price = Price { no: Some(0), yes: Some(0) };
    /// True costs one.
    pub(super) const OF_YES: Price = Price { no: Some(0), yes: Some(1) };
    /// Must be true, which costs nothing.
    pub(super) const MUST: Price = Price { no: None, yes: Some(0) };
    /// Must be false.
    pub(super) const MUST_NOT: Price = Price { no: Some(0), yes: None };
}

impl Chart {
    pub(super) fn new(tests: Vec<(usize, usize, usize)>, top: usize) -> Self {
        Self { tests, top }
    }

    /// Never true.
    pub(super) fn is_never(&self) -> bool {
        self.top == 0
    }

    /// Of `variables` variables, those that it depends on.
    pub(super) fn depends_on(&self, variables: usize) -> Vec<bool> {
        let mut depends = vec![false; variables];
        for (variable, ..) in &self.tests {
            depends[*variable] = true;
        }
        depends
    }

    /// Of all ways to set `variables` variables, how many make it true.
    pub(super) fn count(&self, variables: usize) -> u128 {
        let level = |place: usize| place.checked_sub(2).map_or(variables, |at| self.tests[at].0);
        let mut counts: Vec<u128> = vec![0, 1];
        for (variable, no, yes) in &self.tests {
            let side = |side: usize| counts[side] << (level(side) - variable - 1);
            counts.push(side(*no) + side(*yes));
        }
        counts[self.top] << level(self.top)
    }

    /// The least that a way to make it true costs; none where there is no such way. A variable that is not tested on
    /// that way costs nothing.
    pub(super) fn least(&self, prices: &[Price]) -> Option<u32> {
        let mut least: Vec<Option<u32>> = vec![None, Some(0)];
        for (variable, no, yes) in &self.tests {
            let price = prices[*variable];
            let side = |side: usize, price: Option<u32>| Some(least[side]? + price?);
            let sides = [side(*no, price.no), side(*yes, price.yes)];
            least.push(sides.into_iter().flatten().min());
        }
        least[self.top]
    }

    /// The variables that are true on a cheapest way to make it true; none where there is no such way. Of several
    /// such, the one with the first of `order`, then the second, and so on. Every variable of `order` costs one when
    /// it is true. The prices are left so that only ways with these variables, and no others of `order`, remain.
    pub(super) fn cheapest(&self, prices: &mut [Price], order: &[usize]) -> Option<Vec<usize>> {
        let mut left = self.least(prices)?;
        let mut chosen = Vec::new();
        for &variable in order {
            prices[variable] = Price::MUST;
            if left > 0 && self.least(prices) == Some(left - 1) {
                left -= 1;
                chosen.push(variable);
            } else {
                prices[variable] = Price::MUST_NOT;
            }
        }
        Some(chosen)
    }
}
