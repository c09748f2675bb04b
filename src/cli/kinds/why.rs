//! A why in the terminal: links with numbers, an order read from numbers.

use crate::cli::kinds::kind::{Asked, Marked, numbers};
use crate::cli::say::labelled;
use crate::domain::answer::Given;
use crate::present::kinds::why::{LinkStanding, WhyAskedView, WhyMarkedView};

impl Asked for WhyAskedView {
    fn lines(&self) -> Vec<String> {
        let links = self.links.iter().enumerate();
        links.map(|(n, link)| labelled(&format!("  {}", n + 1), &link.text, 5)).collect()
    }

    fn prompt(&self) -> String {
        "Numbers in order, from the first cause (some may belong nowhere): ".to_owned()
    }

    fn given(&self, line: &str) -> Result<Given, String> {
        let wanted = "Type the numbers of the links in order, such as 3 1 4.";
        let mut links = Vec::new();
        for n in numbers(line).ok_or(wanted)? {
            let link = n.checked_sub(1).and_then(|at| self.links.get(at)).ok_or(wanted)?;
            if links.contains(&link.position) {
                return Err(format!("{n} stands there twice. {wanted}"));
            }
            links.push(link.position);
        }
        Ok(Given::Links(links))
    }
}

impl Marked for WhyMarkedView {
    fn lines(&self) -> Vec<String> {
        let head = (!self.right.is_empty()).then(|| "The right order:".to_owned());
        let right = self.right.iter().enumerate();
        let right = right.map(|(n, link)| labelled(&format!("  {}", n + 1), link, 5));
        let strays = self.given.iter().filter(|link| link.standing == LinkStanding::False);
        let strays = strays.map(|link| labelled("  belongs nowhere:", &link.text, 19));
        head.into_iter().chain(right).chain(strays).collect()
    }
}
